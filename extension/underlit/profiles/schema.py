"""Every key that a profile may hold: type, range, unit, meaning. One table drives the checks.

Two kinds of tables: those with keys of their own (`SINGLE`), and those that hold one entry per
name (`NAMED`: `[lights.red]`). Every number has both bounds, so that NaN and infinity fall out.
"""

from __future__ import annotations

from typing import NamedTuple

from ..language import later

#: Units that are words.
OHM, OHM_MM2 = later("ohm"), later("ohm mm2")
DEGREES, CELSIUS = later("degrees"), later("degrees C")


class Key(NamedTuple):
    """One key.

    kind: number | pair (two numbers) | numbers (one or more) | switch (true, false) |
    word (one of `words`) | colour (#rrggbb) | text. `open` leaves `low` itself out.
    An `optional` key may be missing from an entry that a maker adds.
    """

    kind: str
    meaning: str
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    open: bool = False
    words: tuple[str, ...] = ()
    optional: bool = False


def _above(unit: str, high: float, meaning: str, kind: str = "number") -> Key:
    """More than 0."""
    return Key(kind, meaning, unit, 0.0, high, open=True)


def _from(low: float, unit: str, high: float, meaning: str, optional: bool = False) -> Key:
    """At least `low`."""
    return Key("number", meaning, unit, low, high, optional=optional)


def _share(meaning: str, high: float = 1.0) -> Key:
    return Key("number", meaning, "", 0.0, high)


def _word(meaning: str, *words: str) -> Key:
    return Key("word", meaning, words=words)


_LIMITS = {
    "smallest-gap": _above("mm", 50.0, "smallest gap between plus and minus"),
    "aim-gap": _above("mm", 50.0, "gap that the tool aims at"),
    "edge-margin": _from(0.0, "mm", 100.0, "tape to the base's edge"),
    "aim-edge": _from(0.0, "mm", 100.0, "distance to the edge that the tool aims at"),
    "opening-clearance": _from(0.0, "mm", 50.0, "tape laid by the tool to a foreign opening"),
    "pad-cover": Key("number", "share of a foot (pad) covered by tape", "", 0.0, 1.0, open=True),
    "aim-pad": Key("number", "share of a foot that the tool aims at", "", 0.0, 1.0, open=True),
    "joint-cover": _above("", 4.0, "overlap area over the square of the narrower width"),
    "aim-joint": _above("", 4.0, "the same, that the tool aims at"),
    "narrowest-tape": _above("mm", 50.0, "narrowest strip"),
    "foreign-opening-tape": _from(0.0, "mm2", 10000.0, "tape shown by an opening without a light"),
    "own-opening-tape": _share("share of a lit opening that tape may take"),
    "light-smallest-ma": _from(0.0, "mA", 100.0, "least current of a light after a minute"),
    "light-evenness": _share("dimmest over brightest light of one type"),
    "least-hours": _from(0.0, "h", 10000.0, "least life of the cell"),
    "foam-settling": _share("share by which foam settles", 0.9),
}

_TAPES = {
    "width": _above("mm", 100.0, "width"),
    "stock-widths": _above("mm", 300.0, "widths at hand", "numbers"),
    "ohms-per-square": _from(0.0, OHM, 1000.0, "sheet resistance"),
    "adhesive-conducts": Key("switch", "whether an overlap conducts through the adhesive"),
    "corners": _word("how a drawn corner is laid", "fold", "overlap"),
    "joint-ohm-mm2": _from(0.0, OHM_MM2, 1e6, "resistance of an overlap times its area"),
    "joint-aged-ohm-mm2": _from(0.0, OHM_MM2, 1e6, "the same after months"),
    "pad-ohm-mm2": _from(0.0, OHM_MM2, 1e6, "resistance under a pad times its area"),
    "pad-aged-ohm-mm2": _from(0.0, OHM_MM2, 1e6, "the same after months", optional=True),
    "thickness": _above("mm", 5.0, "thickness"),
}

_LIGHTS = {
    "body": _above("mm", 200.0, "length and width", "pair"),
    "pad": _above("mm", 100.0, "size of a pad along and across the light", "pair"),
    "pad-pitch": _above("mm", 200.0, "pad centre to pad centre"),
    "lens": _above("mm", 100.0, "diameter of the lens"),
    "height": _above("mm", 50.0, "height"),
    "gap-at-light": _above("mm", 50.0, "smallest gap at this light"),
    "saturation-current-a": _above("A", 1e-3, "diode: saturation current"),
    "ideality": _above("", 20.0, "diode: ideality factor"),
    "series-ohm": _from(0.0, OHM, 1e5, "diode: series resistance"),
    "resistor-ohm": _from(0.0, OHM, 1e5, "resistor built into the light"),
    "temperature-c": _from(-40.0, CELSIUS, 100.0, "temperature of the diode"),
    "largest-ma": _above("mA", 1000.0, "largest lasting current"),
    "beam-angle": _from(1.0, DEGREES, 175.0, "full angle at half intensity"),
    "candela-at": _above("cd, mA", 1000.0, "intensity and the current it is given at", "pair"),
    "colour": Key("colour", "colour on the screen"),
    "least-volt": _from(0.0, "V", 10.0, "voltage that the light needs to run", optional=True),
}

_CELLS = {
    "volt": _above("V", 10.0, "voltage"),
    "pulse-ohm": _from(0.0, OHM, 1e4, "inner resistance at the moment of pressing"),
    "sustained-ohm": _from(0.0, OHM, 1e4, "inner resistance after a minute"),
    "aged-ohm": _from(0.0, OHM, 1e4, "inner resistance of an aged cell"),
    "continuous-ma": _above("mA", 1000.0, "largest lasting current"),
    "capacity-mah": _above("mAh", 10000.0, "capacity at a small current"),
    "diameter": _above("mm", 60.0, "largest diameter"),
    "diameter-min": _above("mm", 60.0, "smallest diameter")._replace(optional=True),
    "height": _above("mm", 30.0, "largest height"),
    "height-min": _above("mm", 30.0, "smallest height")._replace(optional=True),
    "cap-radius": _above("mm", 30.0, "radius of the minus cap"),
}

_THICKNESS = {"thickness": _above("mm", 20.0, "thickness")}
_SHEETS = {**_THICKNESS, "transmission": _share("share of light that comes through")}

_CLOSES = ("press", "slide", "flap", "tab", "open", "always")

_HOLDERS = {
    "cell": Key("text", "the cell that it holds"),
    "body": _above("mm", 200.0, "length and width", "pair"),
    "pad": _above("mm", 100.0, "size of a foot along and across the holder", "pair"),
    "pad-pitch": _above("mm", 300.0, "foot centre to foot centre"),
    "height": _above("mm", 50.0, "height with the cell in"),
    "closes": _word("what closes the circuit", *_CLOSES),
}

_PRESS = {
    "ring-inside": _from(25.0, "mm", 200.0, "inside of the foam ring round a spot to press"),
    "ring-inside-min": _from(25.0, "mm", 200.0, "the same where there is little room"),
    "ring-width": _above("mm", 50.0, "width of the ring's foam"),
    "ring-beside": _from(0.0, "mm", 50.0, "battery to the inside of the ring"),
    "ring-clear": _from(0.0, "mm", 100.0, "ring to windows and the panel's edge"),
    "travel": _above("mm", 20.0, "least and largest travel of the panel, foam settled", "pair"),
    "most-layers": Key("number", "layers of foam on each other", "", 1.0, 5.0),
    "fold-beside": _above("mm", 100.0, "battery to the fold of a flap"),
    "fold-beside-min": _above("mm", 100.0, "the same where there is little room"),
    "tab-width": _from(8.0, "mm", 50.0, "width of a pull tab"),
    "tab-grip": _from(3.0, "mm", 100.0, "what of a pull tab stands out to be gripped"),
}

_POST = {
    "length": _above("mm", 2000.0, "largest length"),
    "width": _above("mm", 2000.0, "largest width"),
    "thickness": _above("mm", 500.0, "largest thickness"),
    "grams": _above("g", 50000.0, "largest weight"),
    "checked": Key("text", "date of the text that was read"),
    "source": Key("text", "where it was read"),
}

_CUTTER = {
    "sheet": _above("mm", 3000.0, "width and height of a sheet of tape", "pair"),
    "roll-width": _from(0.0, "mm", 3000.0, "width of a roll instead of sheets (0: sheets)"),
    "roll-length": _above("mm", 20000.0, "longest stretch of a roll cut in one go"),
    "margin": _from(0.0, "mm", 100.0, "edge of a sheet that is left free"),
    "weeding-gap": _above("mm", 50.0, "between packed pieces, so that the rest can be peeled off"),
    "mat": _above("mm", 5000.0, "width and height that the cutter takes in one go", "pair"),
    "smallest-feature": _above("mm", 20.0, "narrowest bridge of paper"),
    "smallest-hole": _above("mm", 20.0, "narrowest hole in paper"),
    "corner-radius": _from(0.0, "mm", 5.0, "rounding of the corners of tape"),
    "overcut": _from(0.0, "mm", 10.0, "how far the knife runs on past its start"),
    "longest-piece": _above("mm", 3000.0, "longest piece that a hand lays without trouble"),
    "glue-margin": _from(0.0, "mm", 50.0, "offered cover or diffuser beyond a window"),
    "lens-clearance": _from(0.0, "mm", 20.0, "hole of an offered cover beyond a lens, all round"),
}

#: Tables with keys of their own.
SINGLE: dict[str, dict[str, Key]] = {
    "limits": _LIMITS,
    "tape": {"use": Key("text", "the tape of this card, by its name in [tapes]"), **_TAPES},
    "patch": {"margin": _above("mm", 50.0, "how far a patch reaches beyond a crossing")},
    "stack": {
        "spacer": _above("mm", 100.0, "all foam between back sheet and panel, unpressed"),
        "panel": Key("text", "the panel's paper, by its name in [sheets]"),
        "diffuser": Key("text", "what lies on the Diffuser layer, by its name in [diffusers]"),
        "post": Key("text", "the letter it is to fit, by its name in [post]", optional=True),
    },
    "glow": {
        "evenness": _share("darkest over brightest place of a lit window"),
        "soft-evenness": _share("the same with a diffuser behind the window"),
    },
    "press": _PRESS,
    "cutter": _CUTTER,
}

#: Tables with one entry per name.
NAMED: dict[str, dict[str, Key]] = {
    "tapes": _TAPES,
    "lights": _LIGHTS,
    "cells": _CELLS,
    "holders": _HOLDERS,
    "sheets": _SHEETS,
    "diffusers": _SHEETS,
    "foams": _THICKNESS,
    "post": _POST,
}


class Order(NamedTuple):
    """`lead` must not be larger (`sign` 1) or smaller (-1) than `follow`, in one table or two.

    Where a profile sets only the lead, the other follows it; where it sets the follower against
    the lead, it is refused.
    """

    table: str
    lead: str
    follow_table: str
    follow: str
    sign: int


ORDERS = (
    Order("limits", "smallest-gap", "limits", "aim-gap", 1),
    Order("limits", "edge-margin", "limits", "aim-edge", 1),
    Order("limits", "pad-cover", "limits", "aim-pad", 1),
    Order("limits", "joint-cover", "limits", "aim-joint", 1),
    Order("limits", "smallest-gap", "patch", "margin", 1),
    Order("glow", "soft-evenness", "glow", "evenness", 1),
)

#: Contacts of tape, fresh and aged: where a profile sets only the fresh one, the aged follows up.
CONTACTS = (("joint-ohm-mm2", "joint-aged-ohm-mm2"), ("pad-ohm-mm2", "pad-aged-ohm-mm2"))

CELL_ORDERS = (("diameter", "diameter-min"), ("height", "height-min"))
