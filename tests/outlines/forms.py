"""Ways in which the same die can be drawn: units, groups, clones, notches, glow areas, frames."""

from __future__ import annotations

from pathlib import Path

from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont
from shapely import affinity
from shapely.geometry import Polygon

from outlines.designs import (
    Design,
    box,
    disc,
    garden,
    jar,
    lantern,
    lighthouse,
    plate,
    star,
    street,
)
from outlines.writing import CUT, Entry, counted, data, document, layer, num, path, separate

FONT = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf")

PANEL = box(5, 5, 100, 140)


def card(*objects: str, frame: tuple[float, float] = (110.0, 150.0)) -> str:
    """Objects on the Die cut layer of an ordinary page."""
    return document(layer("\n".join(objects)), frame)


def one(area: Polygon, name: str, attributes: str = "") -> str:
    return path(data([area]), name, CUT, attributes)


def simple(name: str, svg: str, how: str, told: tuple[str, ...] = (), **numbers: int) -> Entry:
    return Entry(
        f"form-{name}", svg, {"panels": 1, "openings": 0, "loose": 0, **numbers}, how, told
    )


# ---- compound paths ----------------------------------------------------------------------


def compounds() -> list[Entry]:
    """All lines in one path, by either fill rule and in either direction."""
    entries = []
    for name, design, reverse, rule in (
        ("compound-evenodd", lantern(), False, "evenodd"),
        ("compound-nonzero-same-way", jar(), False, "nonzero"),
        ("compound-nonzero-other-way", street(), True, "nonzero"),
        ("compound-black-fill", garden(), True, "evenodd"),
    ):
        d = data([design.panel]) + data(design.outlines[1:], reverse=reverse)
        style = f"fill:#000;fill-rule:{rule};stroke:none"
        svg = card(path(d, "die", style), frame=(150, 160))
        entries.append(
            Entry(f"form-{name}", svg, counted(design, doubled=0, specks=0), "the design")
        )
    return entries


# ---- units -------------------------------------------------------------------------------


def units() -> list[Entry]:
    """The same die in files for 72, 90 and 96 units an inch, in points, inches and others."""
    design = lighthouse()
    entries = []
    for name, per_mm, width, height, view in (
        ("unit-72-px", 72 / 25.4, "340", "453", ""),
        ("unit-90-px", 90 / 25.4, "425", "567", ""),
        ("unit-96-px", 96 / 25.4, "454", "605", ""),
        ("unit-points", 72 / 25.4, "340pt", "453pt", "0 0 340 453"),
        ("unit-inches", 100.0, "4.7244in", "6.2992in", "0 0 12000 16000"),
        ("unit-centimetres", 0.1, "12cm", "16cm", "0 0 12 16"),
        ("unit-offset-view", 1.0, "120mm", "160mm", "-1000 500 120 160"),
    ):
        x, y = (-990.0, 505.0) if "offset" in name else (0.0, 0.0)
        areas = [
            affinity.translate(affinity.scale(a, per_mm, per_mm, origin=(0, 0)), x, y)
            for a in design.outlines
        ]
        body = "\n".join(path(data([a], 4), f"cut-{n}") for n, a in enumerate(areas))
        svg = document(layer(body), width=width, height=height, view=view)
        how = "the design; at three quarters of its size nothing is a speck"
        entries.append(Entry(f"form-{name}", svg, counted(design, specks=0), how))
    return entries


# ---- groups and clones -------------------------------------------------------------------


def grouped() -> list[Entry]:
    """Flipped, nested, turned, and scaled groups."""
    design = jar()
    flipped = "\n".join(
        path(data([affinity.scale(a, 1, -1, origin=(0, 0))]), f"cut-{n}")
        for n, a in enumerate(design.outlines)
    )
    flip = f'<g transform="matrix(1,0,0,-1,0,0)"><g transform="translate(3,-2)">{flipped}</g></g>'
    deep = separate(design)
    for k in range(60):
        place = f"translate({k % 3},{-(k % 3)}) rotate({3 - 6 * (k % 2)})"
        deep = f'<g id="g{k}" transform="{place}">{deep}</g>'
    tiny = f'<g transform="scale(0.001)"><g transform="scale(1000)">{separate(design)}</g></g>'
    halves = layer(
        layer(separate(Design("a", design.panel, design.windows[:9])), "Outside")
        + layer("\n".join(one(w, f"w{n}") for n, w in enumerate(design.windows[9:-1])), "Inside")
        + layer(one(design.windows[-1], "ring") + one(design.pieces[0], "middle"), "Ring")
    )
    rows = (("y-flip", card(flip)), ("sixty-groups", card(deep)), ("scales", card(tiny)))
    entries = [Entry(f"form-{n}", svg, counted(design), "the design") for n, svg in rows]
    entries.append(Entry("form-sub-layers", document(halves), counted(design), "the design"))
    return entries


def clones() -> list[Entry]:
    """Windows as clones, clones of clones, clones of groups, symbols."""
    panel = one(PANEL, "panel")
    window = one(box(12, 15, 8, 12), "window")
    row = window + "".join(
        f'<use id="u{k}" xlink:href="#{"window" if k == 1 else f"u{k - 1}"}" x="12"/>'
        for k in range(1, 7)
    )
    rows = f'<g id="row">{row}</g>' + "".join(
        f'<use id="r{k}" href="#row" transform="translate(0,{25 * k})"/>' for k in range(1, 5)
    )
    stars = (
        '<defs><symbol id="star" viewBox="-10 -10 20 20" overflow="visible">'
        f'<path d="{data([star(0, 0, 8)])}"/></symbol></defs>'
    )
    many = "".join(
        f'<use id="s{k}" href="#star" x="{12 + 22 * (k % 4)}" y="{15 + 22 * (k // 4)}" '
        f'width="20" height="20"/>'
        for k in range(20)
    )
    mirrored = (
        panel
        + one(star(30, 40, 9), "left")
        + ('<use id="right" href="#left" transform="matrix(-1,0,0,1,110,0)"/>')
    )
    ring = f'<g id="ring">{one(disc(30, 40, 10), "o")}{one(disc(30, 40, 5), "i")}</g>'
    rings = (
        panel + ring + '<use id="ring2" href="#ring" x="45"/><use id="ring3" href="#ring" y="50"/>'
    )
    whole = f'<defs><g id="die">{separate(lantern())}</g></defs>' + layer(
        '<use id="card" href="#die" transform="translate(2,2)"/>'
    )
    return [
        simple("clones-of-clones", card(panel, rows), "five rows of seven", openings=35),
        simple(
            "symbols",
            document(stars + layer(panel + many), (110, 150)),
            "twenty stars",
            openings=20,
        ),
        simple("clone-mirrored", card(mirrored), "one star twice", openings=2),
        simple(
            "clones-of-group", card(rings), "three rings", ("loose-piece",), openings=3, loose=3
        ),
        Entry("form-clone-of-card", document(whole, (110, 155)), counted(lantern()), "the design"),
    ]


# ---- shapes and path commands ------------------------------------------------------------


def shapes() -> list[Entry]:
    """Basic shapes instead of paths; arcs, smooth and relative commands; clips; hidden objects."""
    basic = (
        '<rect id="panel" x="5" y="5" width="100" height="140" rx="6"/>'
        '<circle id="c" cx="30" cy="30" r="10"/><ellipse id="e" cx="70" cy="30" rx="18" ry="7"/>'
        '<polygon id="p" points="20,60 40,60 30,80"/>'
        '<rect id="r" x="60" y="60" width="20" height="9"/>'
        '<polyline id="q" points="20,100 40,100 40,120 20,120 20,100"/>'
        '<line id="l" x1="60" y1="100" x2="90" y2="120"/>'
    )
    compact = (
        "m5 11a6 6 0 016-6h88a6 6 0 016 6v128a6 6 0 01-6 6h-88a6 6 0 01-6-6z"
        "m25 19a10 10 0 1020 0a10 10 0 10-20 0z"
        "M60 40q10-20 20 0t20 0v10h-40zM20 90c0-10 20-10 20 0s-20 10-20 0z"
    )
    clipped = (
        '<clipPath id="half"><rect x="5" y="5" width="100" height="70"/></clipPath>'
        + one(PANEL, "panel")
        + f'<g clip-path="url(#half)">{one(disc(55, 75, 20), "sun")}'
        + f"{one(disc(30, 110, 8), 'gone')}</g>"
    )
    hidden = (
        one(PANEL, "panel")
        + one(disc(30, 40, 9), "shown")
        + path(data([disc(70, 40, 9)]), "hidden", "display:none")
        + path(data([disc(70, 90, 9)]), "clear", "opacity:0")
        + f'<g display="none">{one(disc(30, 90, 9), "in-hidden")}</g>'
    )
    dark = layer(
        one(PANEL, "panel") + one(disc(50, 60, 9), "w"), attributes=' style="display:none"'
    )
    styled = "<style>.cut{fill:none;stroke:red} #off{display:none}</style>" + layer(
        f'<g class="cut">{one(PANEL, "panel")}{one(disc(50, 60, 9), "w")}'
        + one(disc(50, 90, 9), "off")
        + "</g>"
    )
    styled = styled.replace(f'id="off" style="{CUT}"', 'id="off"')
    return [
        simple(
            "basic-shapes",
            card(basic),
            "five closed shapes, one line",
            ("outline-open",),
            openings=5,
            scores=1,
        ),
        simple(
            "compact-commands",
            card(f'<path id="d" d="{compact}"/>'),
            "three windows by hand",
            openings=3,
        ),
        simple("clip", card(clipped), "the sun is cut in half, the disc is cut away", openings=1),
        simple(
            "hidden-objects", card(hidden), "geometry counts, hidden objects do not", openings=2
        ),
        simple("hidden-layer", document(dark), "a hidden layer still counts", openings=1),
        simple("css", document(styled), "one of two windows is not displayed", openings=1),
    ]


# ---- edges -------------------------------------------------------------------------------


def edges() -> list[Entry]:
    """Notches, crossing and touching windows, small gaps, specks."""
    panel = one(PANEL, "panel")
    notches = [disc(5, 40, 8), box(60, 140, 20, 20), box(95, 60, 10, 20), box(30, 5, 12, 6)]
    thumb = (
        panel + "".join(one(a, f"n{k}") for k, a in enumerate(notches)) + one(disc(50, 75, 12), "w")
    )
    crossing = [disc(30, 40, 10), disc(42, 40, 10), disc(54, 40, 10)]
    bars = [box(65, 80, 30, 5), box(77, 68, 5, 30)]
    apart = [box(20, 100, 10, 10), box(30, 100, 10, 10), box(60, 110, 10, 10), box(70, 120, 10, 10)]
    cross = panel + "".join(one(a, f"x{k}") for k, a in enumerate([*crossing, *bars]))
    shared = panel + "".join(one(a, f"y{k}") for k, a in enumerate(apart))
    tab = Polygon(
        [(5, 5), (105, 5), (105, 145), (65, 145), (65, 152), (45, 152), (45, 145), (5, 145)]
    )
    tabbed = one(tab, "panel") + one(disc(55, 140, 8), "w")
    nearly = panel + path("M 20 20 L 40 20 L 40 50 L 20 50 L 20 20.04", "nearly")
    gap = nearly + path("M 60 20 L 80 20 L 80 50 L 60 50 L 60 20.6", "gap")
    dust = panel + one(star(50, 60, 10), "w")
    dots = [
        disc(12 + 5 * (k % 18), 100 + 4 * (k // 18), 0.25 + 0.05 * (k % 6), 12) for k in range(150)
    ]
    dust += path(data(dots), "dust", "fill:#000")
    loop = panel + path("M 30 30 L 60 30 L 60 60 L 30 60 L 30 30 L 30 28 L 33 32 Z", "overshoot")
    glasses = panel + path(data([disc(40, 60, 12)]) + data([disc(54, 60, 12)]), "glasses")
    deep = panel + "".join(one(disc(55, 75, 45 - 8 * k), f"ring{k}") for k in range(5))
    return [
        simple("notches", card(thumb), "four notches, one window", openings=1, notches=4),
        simple(
            "crossing", card(cross), "three discs in a row are one, two bars are one", openings=2
        ),
        simple(
            "touching", card(shared), "a shared edge joins, a shared corner does not", openings=3
        ),
        simple(
            "tab", card(tabbed, frame=(110, 155)), "one window at the root of a tab", openings=1
        ),
        simple("end-nearly-meets", card(nearly), "ends 0.04 mm apart", openings=1),
        Entry(
            "form-small-gap",
            card(gap),
            {"panels": 1, "openings": 1, "loose": 0},
            "one of two windows has a gap of 0.6 mm",
            ("outline-open",),
            True,
        ),
        simple("dust", card(dust), "150 dots under 1 mm2", openings=1, specks=150),
        simple("overshoot", card(loop), "a window whose end overshoots", openings=1),
        simple("crossing-in-one-path", card(glasses), "two discs of one path cross", openings=1),
        simple(
            "rings", card(deep), "five rings in each other", ("loose-piece",), openings=3, loose=2
        ),
    ]


# ---- what the tool's own attributes mean -------------------------------------------------


def marked() -> list[Entry]:
    """Glow areas, marked panels, glued pieces, vellum, frames."""
    panel = one(PANEL, "panel")
    glow = panel + one(disc(30, 40, 10), "window")
    glow += one(disc(70, 40, 10), "moon", 'underlit:glow="through"')
    glow += one(box(20, 80, 60, 20), "sea", 'underlit:glow="through"')
    glow += path(
        data([star(30, 120, 6), star(60, 120, 6)]), "stars", CUT, 'underlit:glow="through"'
    )
    frame = one(box(0, 0, 110, 150), "frame")
    inside = "".join(one(w, f"w{k}") for k, w in enumerate([disc(40, 60, 12), star(70, 100, 9)]))
    page_panel = one(box(0, 0, 110, 150), "panel", 'underlit:part="panel"')
    border = one(box(2, 2, 106, 146), "border")
    chosen = one(PANEL, "panel", 'underlit:part="panel"')
    outside = one(disc(160, 60, 20), "elsewhere")
    ring = one(disc(50, 60, 20), "o") + one(disc(50, 60, 12), "i", 'underlit:glued="true"')
    ignored = f'<g underlit:role="ignore">{one(disc(40, 60, 12), "note")}</g>'
    base = layer(one(box(6.6, 6.6, 96.8, 136.8), "base"), "Base")
    return [
        simple("glow-through", card(glow), "one window, four glow areas", openings=5, through=4),
        simple("page-frame", card(frame, panel, inside), "frame, panel, two windows", openings=2),
        simple("page-is-panel-marked", card(page_panel, inside), "marked as the panel", openings=2),
        simple(
            "marked-in-border",
            card(border, chosen, inside, outside, frame=(200, 150)),
            "only what lies in the marked panel counts",
            openings=2,
        ),
        simple(
            "glued", card(panel, ring), "a ring whose middle is glued back", openings=1, loose=1
        ),
        simple("ignored", card(panel, inside, ignored), "one object is to be ignored", openings=2),
        simple(
            "base-beside",
            document(layer(panel + inside) + base, (110, 150)),
            "panel and base",
            openings=2,
        ),
        Entry(
            "form-page-is-panel",
            card(frame, inside),
            {"panels": 2, "openings": 0, "loose": 0},
            "an outline equal to the page is left out, and the maker is asked",
            ("object-skipped",),
            True,
        ),
    ]


# ---- letters -----------------------------------------------------------------------------


def letters() -> list[Entry]:
    """Text turned into outlines: one path, and one path for each letter."""
    entries = []
    # counters of the letters, by eye: A 1, B 2, O 1, R 1, D 1, g 1, a 1, e 1, the dot of i 1
    for name, text, openings, loose in (
        ("letters-capital", "HARBOUR LANE", 11, 7),
        ("letters-small", "night garden", 12, 5),
    ):
        glyphs = _glyphs(text)
        whole = one(box(5, 5, 280, 60), "panel") + path("".join(glyphs), "words", "fill:#000")
        single = one(box(5, 5, 280, 60), "panel") + "".join(
            path(d, f"letter-{n}", "fill:#000") for n, d in enumerate(glyphs)
        )
        for kind, body in (("one-path", whole), ("each", single)):
            svg = card(body, frame=(290, 70))
            entries.append(
                simple(
                    f"{name}-{kind}",
                    svg,
                    "letters and their counters by eye",
                    ("loose-piece",),
                    openings=openings,
                    loose=loose,
                )
            )
    return entries


def _glyphs(text: str) -> list[str]:
    """Path data of each letter, about 30 mm high."""
    font = TTFont(FONT)
    names, widths, glyphs = font.getBestCmap(), font["hmtx"], font.getGlyphSet()
    scale, x, found = 30.0 / 2048.0, 15.0, []
    for letter in text:
        name = names[ord(letter)]
        pen = SVGPathPen(glyphs, ntos=lambda value: num(value, 3))
        glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, x, 48)))
        x += widths[name][0] * scale
        if pen.getCommands():
            found.append(pen.getCommands())
    return found


def entries() -> list[Entry]:
    """All of them."""
    return [
        *compounds(),
        *units(),
        *grouped(),
        *clones(),
        *shapes(),
        *edges(),
        *marked(),
        *letters(),
        simple("rounded-plain", card(one(plate(100, 140, 5, 5, 5), "panel")), "a plain panel"),
    ]
