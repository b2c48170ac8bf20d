"""Bought-style cutting sheets: pieces spread over a sheet, score lines, double lines."""

from __future__ import annotations

import itertools

import shapely
from shapely import affinity
from shapely.geometry import Polygon

from outlines.designs import Design, box, disc, jar, lantern, lighthouse, plate, star, street
from outlines.writing import CUT, Entry, counted, data, document, layer, path, separate

SHEET = (304.8, 304.8)
SCORE = "fill:none;stroke:#0060c0;stroke-width:0.3;stroke-dasharray:2 2"


def moved(design: Design, x: float, y: float, angle: float = 0.0) -> Design:
    """The design somewhere else on the sheet."""

    def there(area: Polygon) -> Polygon:
        turned = affinity.rotate(area, angle, origin=(0, 0))
        return affinity.translate(turned, x, y)

    return Design(
        design.name,
        there(design.panel),
        tuple(there(a) for a in design.windows),
        tuple(there(a) for a in design.pieces),
    )


def compound(design: Design, name: str, attributes: str = "") -> str:
    """A design as one path, every second line the other way round."""
    d = data(design.outlines[::2]) + data(design.outlines[1::2], reverse=True)
    return path(d, name, CUT, attributes)


def lines(ways: list[tuple[tuple[float, float], tuple[float, float]]], name: str) -> str:
    """Straight score lines, each an object of its own."""
    return "\n".join(
        path(f"M {x0:g} {y0:g} L {x1:g} {y1:g}", f"{name}-{n}", SCORE)
        for n, ((x0, y0), (x1, y1)) in enumerate(ways, 1)
    )


def card_set() -> Entry:
    """Panel, back, liner, envelope strip; two score lines on the back, one on no piece."""
    front = moved(lantern(), 10, 10)
    plain = [plate(105, 148, 4, 130, 10), plate(100, 143, 3, 10, 158.5), box(130, 170, 160, 30)]
    scores = [((182.5, 10), (182.5, 158)), ((131, 185), (289, 185)), ((250, 20), (250, 150))]
    body = [separate(front), *(path(data([a]), f"part-{n}") for n, a in enumerate(plain, 1))]
    svg = document(layer("\n".join([*body, lines(scores, "score")])), SHEET)
    numbers = counted(front, scores=2)
    numbers["panels"] = 4
    how = "one die, three plain pieces; two of the score lines meet a piece"
    return Entry("sheet-card-set", svg, numbers, how, ("outline-open",))


def two_up() -> Entry:
    """The same die twice, once turned by a quarter."""
    both = [moved(lighthouse(), 8, 8), moved(lighthouse(), 290, 130, 90)]
    svg = document(layer("\n".join(compound(d, f"card-{n}") for n, d in enumerate(both, 1))), SHEET)
    numbers = counted(both[0])
    numbers.update(panels=2, openings=2 * numbers["openings"])
    return Entry("sheet-two-up", svg, numbers, "one die twice")


def every_line_twice() -> Entry:
    """All lines drawn a second time right on top, as after a doubled layer."""
    front = moved(jar(), 20, 15)
    again = separate(front).replace('id="', 'id="copy-')
    svg = document(layer(separate(front) + "\n" + again), SHEET)
    numbers = counted(front, doubled=0, coincident=len(front.outlines))
    return Entry(
        "sheet-lines-twice", svg, numbers, "one die, every line twice", ("outline-doubled",)
    )


def stroke_to_path() -> Entry:
    """Each cut line 0.4 mm wide and turned into a filled shape: an outer and an inner line."""
    front = moved(street(), 20, 15)
    bands = []
    for area in front.outlines:
        wide = area.exterior.buffer(0.2, join_style="mitre")
        outer, inner = Polygon(wide.exterior), Polygon(wide.interiors[0])
        bands.append(data([outer]) + data([inner], reverse=True))
    body = "\n".join(path(d, f"line-{n}", "fill:#000") for n, d in enumerate(bands, 1))
    numbers = counted(front, doubled=len(bands), coincident=0)
    svg = document(layer(body), SHEET)
    return Entry("sheet-stroke-to-path", svg, numbers, "one die, pen edges", ("outline-doubled",))


def shadow_layers() -> Entry:
    """Die, larger mat and larger backing spread side by side in sub-layers by colour."""
    front = moved(lighthouse(), 5, 5)
    mat = Polygon(front.panel.buffer(3).exterior)
    mat = affinity.translate(mat, 110, 5)
    frame = Design("frame", mat, (affinity.translate(front.panel, 110, 5).buffer(-6),))
    back = affinity.translate(front.panel.buffer(5, join_style="mitre"), 5, 165)
    subs = "\n".join(
        layer(body, label)
        for label, body in (
            ("Red", separate(front)),
            ("Gold", compound(frame, "mat")),
            ("Navy", path(data([Polygon(back.exterior)]), "backing")),
        )
    )
    numbers = {"panels": 3, "openings": len(front.windows) + 1, "loose": 0}
    svg = document(layer(subs, attributes=' underlit:role="die-cut"'), SHEET)
    return Entry("sheet-colour-layers", svg, numbers, "die, mat with one hole, backing")


def chosen_panel() -> Entry:
    """Several pieces of which one is marked as the panel: only that one counts."""
    front = moved(lantern(), 10, 10)
    others = [moved(jar(), 130, 10), moved(street(), 10, 180)]
    body = compound(front, "chosen", 'underlit:part="panel"')
    body += "\n" + "\n".join(compound(d, f"other-{n}") for n, d in enumerate(others))
    # one compound path is marked as a whole: its outermost line is the panel
    return Entry(
        "sheet-panel-chosen", document(layer(body), SHEET), counted(front), "the chosen die"
    )


def confetti() -> Entry:
    """A die and twenty loose stars beside it, with heading text and a picture."""
    front = moved(lighthouse(), 10, 10)
    stars = [star(130 + 32 * (k % 5), 30 + 34 * (k // 5), 6 + k % 4) for k in range(20)]
    words = '<text id="heading" x="130" y="12" style="font-size:6px">Harbour Lane, sheet 3</text>'
    dots = "\n".join(path(data([a]), f"star-{n}") for n, a in enumerate(stars))
    svg = document(layer("\n".join([separate(front), words, dots])), SHEET)
    numbers = counted(front)
    numbers["panels"] = 21
    return Entry("sheet-confetti", svg, numbers, "one die, twenty stars")


def framed() -> Entry:
    """A frame as large as the sheet round three pieces."""
    front = moved(jar(), 10, 10)
    plain = [plate(100, 140, 3, 150, 10), disc(80, 220, 50)]
    body = path(data([box(0, 0, *SHEET)]), "sheet") + separate(front)
    body += "".join(path(data([a]), f"plain-{n}") for n, a in enumerate(plain))
    numbers = counted(front)
    numbers["panels"] = 3
    return Entry("sheet-framed", document(layer(body), SHEET), numbers, "a die, a liner, a disc")


def fold_dashes() -> Entry:
    """Fold lines as many short cuts, drawn as one path of open strokes."""
    front = moved(lantern(), 10, 10)
    back = plate(120, 148, 2, 140, 10)
    dashes = "".join(f"M 200 {12 + 6 * k} v 3" for k in range(24))
    body = "\n".join([separate(front), path(data([back]), "back"), path(dashes, "fold", SCORE)])
    numbers = counted(front, scores=24)
    numbers["panels"] = 2
    how = "one die, one back, 24 dashes"
    return Entry("sheet-fold-dashes", document(layer(body), SHEET), numbers, how, ("outline-open",))


def waste_used() -> Entry:
    """Small pieces placed in the waste of a large window: they lie inside the opening."""
    frame = box(20, 20, 150, 200)
    window = box(35, 35, 120, 170)
    inside = [plate(40, 60, 3, 42, 45), plate(40, 60, 3, 95, 45), disc(70, 150, 20)]
    holes = [disc(62, 75, 9), star(115, 75, 9), disc(70, 150, 6)]
    areas = [frame, window, *inside, *holes]
    body = "\n".join(path(data([a]), f"cut-{n}") for n, a in enumerate(areas, 1))
    how = "a frame, one window, three pieces in it with a hole each"
    numbers = {"panels": 1, "openings": 4, "loose": 3}
    return Entry("sheet-waste-used", document(layer(body), SHEET), numbers, how, ("loose-piece",))


def on_second_page() -> Entry:
    """Two pages in one file; the first one does not lie at the origin."""
    front = moved(lantern(), 160, 10)
    other = moved(lighthouse(), 10, 10)
    pages = (
        '<sodipodi:namedview id="view"><inkscape:page id="p1" x="150" y="0" width="140" '
        'height="200"/><inkscape:page id="p2" x="0" y="0" width="140" height="200"/>'
        "</sodipodi:namedview>"
    )
    body = pages + layer(compound(front, "front") + compound(other, "other"))
    numbers = counted(front)
    numbers.update(panels=2, openings=len(front.windows) + len(other.windows))
    return Entry("sheet-two-pages", document(body, SHEET), numbers, "two dies")


def loose_segments() -> Entry:
    """An exchange file: every edge is a line of its own, ends meet unjoined."""
    areas = [box(20, 20, 100, 140), box(40, 40, 20, 30), box(80, 40, 20, 30)]
    parts = []
    for n, area in enumerate(areas):
        corners = list(shapely.get_coordinates(area))
        for k, (a, b) in enumerate(itertools.pairwise(corners)):
            parts.append(path(f"M {a[0]:g} {a[1]:g} L {b[0]:g} {b[1]:g}", f"edge-{n}-{k}"))
    how = "nothing closes: no panel, and the maker is told how to join"
    numbers = {"panels": 0, "openings": 0, "loose": 0}
    svg = document(layer("\n".join(parts)), SHEET)
    return Entry("sheet-loose-segments", svg, numbers, how, ("outline-open",), True)


def loose_segments_inside() -> Entry:
    """A closed panel, but its three windows come as single lines."""
    windows = [box(40, 40, 20, 30), box(80, 40, 20, 30), box(40, 90, 20, 30)]
    parts = [path(data([box(20, 20, 100, 140)]), "panel")]
    for n, area in enumerate(windows):
        corners = list(shapely.get_coordinates(area))
        for k, (a, b) in enumerate(itertools.pairwise(corners)):
            parts.append(path(f"M {a[0]:g} {a[1]:g} L {b[0]:g} {b[1]:g}", f"edge-{n}-{k}"))
    how = "the panel closes, the windows do not"
    numbers = {"panels": 1, "openings": 0, "loose": 0, "scores": 12}
    svg = document(layer("\n".join(parts)), SHEET)
    return Entry("sheet-window-segments", svg, numbers, how, ("outline-open",), True)


def entries() -> list[Entry]:
    """All sheets."""
    return [
        card_set(),
        two_up(),
        every_line_twice(),
        stroke_to_path(),
        shadow_layers(),
        chosen_panel(),
        confetti(),
        framed(),
        fold_dashes(),
        waste_used(),
        on_second_page(),
        loose_segments(),
        loose_segments_inside(),
    ]
