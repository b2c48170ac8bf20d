"""What a maker calls the parts of a card, in the forms that sentences need.

Other languages bend these words ("the battery", "of the battery"), so each form is said whole.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from ..language import later, say

#: Ids as drawing programs give them: what kind of object it is, and numbers; or nothing but
#: numbers. What the usual ones write, no source.
_PROGRAMS = (
    "path|rect|rectangle|circle|ellipse|oval|polygon|polyline|line|star|spiral|g|group|compound|"
    "layer|shape|object|vector|curve|use|clone|image|text|tspan|svg|xmlid|svgid|path-effect"
)
_BY_PROGRAM = re.compile(
    rf"(?:path|vector|(?:{_PROGRAMS})?[ _-]*\d+(?:[ _.-]*\d+)*)_?", re.IGNORECASE
)

#: Kind of part -> how it is called where it is the only one, and with its number.
Forms = Mapping[str, tuple[str, str]]

ALONE: Forms = {
    "light": (later("Light {number}"), later("Light {number}")),
    "cell": (later("Battery"), later("Battery {number}")),
    "switch": (later("Switch"), later("Switch {number}")),
    "resistor": (later("Resistor"), later("Resistor {number}")),
    "pull-tab": (later("Pull tab"), later("Pull tab {number}")),
}

INNER: Forms = {
    "light": (later("light {number}"), later("light {number}")),
    "cell": (later("the battery"), later("battery {number}")),
    "switch": (later("the switch"), later("switch {number}")),
    "resistor": (later("the resistor"), later("resistor {number}")),
    "pull-tab": (later("the pull tab"), later("pull tab {number}")),
}

OF: Forms = {
    "light": (later("of light {number}"), later("of light {number}")),
    "cell": (later("of the battery"), later("of battery {number}")),
    "switch": (later("of the switch"), later("of switch {number}")),
    "resistor": (later("of the resistor"), later("of resistor {number}")),
    "pull-tab": (later("of the pull tab"), later("of pull tab {number}")),
}

AT: Forms = {
    "light": (later("at light {number}"), later("at light {number}")),
    "cell": (later("at the battery"), later("at battery {number}")),
    "switch": (later("at the switch"), later("at switch {number}")),
    "resistor": (later("at the resistor"), later("at resistor {number}")),
    "pull-tab": (later("at the pull tab"), later("at pull tab {number}")),
}


#: Types of light of the shipped profiles.
LIGHT_TYPES = {
    "warm-white": later("warm white"),
    "cool-white": later("cool white"),
    "red": later("red"),
    "amber": later("amber"),
    "green": later("green"),
    "blue": later("blue"),
    "colour-change": later("colour changing"),
}


def light_type(name: str) -> str:
    """A type of light in words; a maker's own by its name."""
    return say(LIGHT_TYPES[name]) if name in LIGHT_TYPES else name.replace("-", " ")


def by_program(name: str) -> bool:
    """Whether a name is the id that a drawing program gave, which means nothing to a maker."""
    return _BY_PROGRAM.fullmatch(name.strip()) is not None


def named(kind: str, number: int, alone: bool, forms: Forms) -> str:
    """A part in one form. Lights have their number even where there is only one."""
    only, numbered = forms[kind]
    return say(only if alone else numbered, number=number)
