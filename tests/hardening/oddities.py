"""What odd drawings are made of: names, numbers, outlines, attributes as they really come wrong."""

from __future__ import annotations

import random

INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"
SODIPODI = "{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}"
UNDERLIT = "{urn:underlit:card:1}"
XLINK = "{http://www.w3.org/1999/xlink}"

#: Label and role.
LAYERS = (
    ("Die cut", "die-cut"), ("Die cut", "die-cut"), ("die cut", ""), ("Base", "base"),
    ("Base", "base"), ("Lights", "lights"), ("Lights", "lights"), ("Power", "power"),
    ("Tape", "tape"), ("Tape", "tape"), ("Tapes", ""), ("Folds", "folds"), ("Foam", "foam"),
    ("Cover", "cover"), ("Diffuser", "diffuser"), ("Openings", "openings"), ("Marks", "marks"),
    ("Findings", "findings"), ("Glow", "glow"), ("Mine", ""), ("", "no-such"), ("Old", "ignore"),
)  # fmt: skip

_LIGHT = {
    "body": (-6, -2.5, 12, 5), "positive-pad": (2.5, -1.5, 3, 3),
    "negative-pad": (-5.5, -1.5, 3, 3), "lens": (-1.5, -1.5, 3, 3),
}  # fmt: skip
_CELL = {
    "body": (-12, -12, 24, 24), "positive-pad": (8, -3, 6, 6), "negative-pad": (-14, -3, 6, 6),
}  # fmt: skip
_TWO = {"body": (-4, -2, 8, 4), "contact-1": (-5, -1, 2, 2), "contact-2": (3, -1, 2, 2)}

#: Attributes and features (x, y, width, height) of parts.
PARTS = (
    ({"part": "light", "type": "warm-white"}, _LIGHT),
    ({"part": "light", "type": "red", "contact": "both"}, _LIGHT),
    ({"part": "light", "type": "no-such", "shows": "edge"}, _LIGHT),
    ({"part": "light"}, _LIGHT),
    ({"part": "cell", "type": "cr2032", "closes": "press"}, _CELL),
    ({"part": "cell", "type": "cr2032", "closes": "flap", "up": "minus"}, _CELL),
    ({"part": "cell", "type": "cr1220", "closes": "never"}, _CELL),
    ({"part": "switch", "closes": "slide"}, _TWO),
    ({"part": "resistor", "ohms": "47"}, _TWO),
    ({"part": "resistor", "ohms": "lots"}, _TWO),
    ({"part": "pull-tab"}, {"body": (-5, -20, 10, 40)}),
)

_HUGE = "M " + " L ".join(f"{(i * 37) % 140},{(i * 53) % 200}" for i in range(400)) + " Z"

#: Attributes that change what an object means, with right and wrong values.
ATTRIBUTES = (
    ("style", ("display:none", "opacity:0", "fill:none;stroke:none", "stroke-width:1e6",
               "fill:url(#nowhere)", "stroke:#000;stroke-width:6mm;fill:none", "mask:url(#m)",
               "clip-path:url(#c)", ";;:", "stroke-dasharray:1 2", "fill-rule:evenodd")),
    ("display", ("none", "inline", "x")), ("class", ("a", "b c", "")), ("id", ("a1", "", "a 1#")),
    ("clip-path", ("url(#a1)", "url(#none)", "url(")), ("mask", ("url(#a2)",)),
    ("fill", ("none", "red", "url(#a3) none")), ("stroke", ("none", "black")),
    ("stroke-width", ("5", "0", "-4", "3mm", "1em", "10%", "")), ("stroke-linejoin", ("arcs",)),
    ("stroke-linecap", ("round", "square", "x")), ("vector-effect", ("non-scaling-stroke",)),
    ("visibility", ("hidden", "visible")),
    (UNDERLIT + "role", ("tape", "base", "die-cut", "ignore", "lights", "x", "")),
    (UNDERLIT + "part", ("panel", "patch", "light", "cell", "x", "")),
    (UNDERLIT + "polarity", ("positive", "negative", "plus")),
    (UNDERLIT + "glued", ("true", "yes")), (UNDERLIT + "glow", ("through", "x")),
    (UNDERLIT + "accept", ("tape-shows", "no-such gap-too-small", "")),
    (UNDERLIT + "made", ("place_lights:a1", "route_tape:a2", "x")),
    (UNDERLIT + "pin", ("true",)), (UNDERLIT + "turn", ("locked", "x")),
    (UNDERLIT + "settings", ('{"limits": {"smallest-gap": 1}}', "{", "[]", '{"x": 1}')),
    (UNDERLIT + "profile", ("classroom", "machine-cut", "no-such.toml", "")),
    (UNDERLIT + "side", ("back", "front", "left")), (UNDERLIT + "folds", ("a1", "cell", "")),
    (UNDERLIT + "moves", ("once", "often", "x")), (UNDERLIT + "joint", ("folded-end", "x")),
    (UNDERLIT + "closes", ("press", "flap", "tab", "open", "always", "x")),
    (UNDERLIT + "ohms", ("0", "-5", "nan", "1e400", "22")), (UNDERLIT + "type", ("red", "x", "")),
    (UNDERLIT + "feature", ("lens", "body", "positive-pad", "x")),
    (INKSCAPE + "label", ("Tape", "Die cut", "Base", "Foam", "\u00d6ffnung", "")),
    (INKSCAPE + "groupmode", ("layer", "x")), (SODIPODI + "insensitive", ("true",)),
    (XLINK + "href", ("#a1", "#nowhere", "a.png", "", "data:image/png;base64,xx")),
    ("d", ("M 0 0", "M", "", "z", "M 0 0 L 1e308 1e308", "M 10 10 h 50 v 50 z m 5 5 h 9 v 9 z",
           "M 0 0 A 0 0 0 0 0 5 5", "M 1 2 C 3 4", _HUGE)),
    ("points", ("0,0 10,0 10,10", "0,0 1", "a b")),
)  # fmt: skip


def an_id(rng: random.Random) -> str:
    """One of few names, so that things refer to each other and double names occur."""
    return f"a{rng.randint(1, 12)}"


def a_number(rng: random.Random) -> str:
    """Mostly millimetres on the page; now and then something that is none."""
    if rng.random() < 0.92:
        return f"{rng.uniform(0, 150):.3f}"
    return rng.choice(("0", "-5", "1e-9", "1e12", "nan", "inf", "", "5mm", "10%", "x", "1e400"))


def a_transform(rng: random.Random) -> str:
    """Turns, shifts, mirrors, skews; some that flatten, some that cannot be read."""
    return rng.choice((
        f"translate({rng.uniform(-30, 30):.2f} {rng.uniform(-30, 30):.2f})",
        f"rotate({rng.uniform(-180, 180):.1f} 70 100)", "scale(-1 1)", "scale(2)", "scale(0)",
        "matrix(1 0 0 1 0 0)", "matrix(0 0 0 0 0 0)", "skewX(30)", "scale(1e-9)", "scale(1e9)",
        "rotate(nan)", "translate(", "matrix(1 2 3)", "scale(1 1.005) rotate(45)",
    ))  # fmt: skip


def a_path(rng: random.Random) -> str:
    """An outline or line of a few corners, straight or curved, open or closed."""
    points = [(rng.uniform(0, 140), rng.uniform(0, 200)) for _ in range(rng.randint(1, 7))]
    words = [f"M {points[0][0]:.2f},{points[0][1]:.2f}"]
    for x, y in points[1:]:
        bow = rng.choice(("L", "L", "L", "Q", "T", "H"))
        ends = f"{x:.2f},{y:.2f}"
        words.append({"Q": f"Q {y % 140:.2f},{x:.2f} {ends}", "H": f"H {x:.2f}"}.get(bow) or
                     f"{bow} {ends}")  # fmt: skip
    return " ".join(words) + rng.choice(("", " Z", " z"))
