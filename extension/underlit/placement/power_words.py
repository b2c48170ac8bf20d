"""Why a battery does not fit, in a maker's words and with figures."""

from __future__ import annotations

from ..profiles import Profile
from .power_data import Wish
from .power_room import Miss


def length(value: float) -> str:
    """4.25 -> "4.3 mm", 4.0 -> "4 mm"."""
    text = f"{value:.1f}" if abs(value) >= 0.1 else f"{value:.2f}"
    return f"{text.rstrip('0').rstrip('.')} mm"


def sentence(miss: Miss) -> str:
    """One unmet need."""
    need, there = miss.need, miss.there
    if there < 0.005:
        way = "beyond" if need.inside else "into"
        deep = f"{length(-there)} {way}" if there < -0.005 else "right up to"
        short = f"{need.subject[0].upper()}{need.subject[1:]} would reach {deep} {need.thing}"
        return f"{short}; it must keep {length(need.limit)} clear." if need.limit else f"{short}."
    return (
        f"{need.subject[0].upper()}{need.subject[1:]} would be {_short_of(there, need.limit)} from "
        f"{need.thing}, and {length(need.limit)} are needed."
    )


def _short_of(there: float, limit: float) -> str:
    """A distance with enough decimals to differ from the limit that it misses."""
    text = length(there)
    return text if text != length(limit) else f"{there:.2f} mm"


def no_foam(wish: Wish, profile: Profile) -> str:
    """No layers of foam leave the travel of a press."""
    low, high = sorted(profile.press.travel)
    foam = wish.foam
    if foam is not None and foam.travel is not None and not foam.foams:
        left = length(wish.height + foam.travel)
        there = f"{length(foam.travel)} above" if foam.travel > 0.0 else "no higher than"
        return (
            f"Your foam of {length(foam.thickness)} settles to {left}: the panel is {there} "
            f"the battery ({length(wish.height)} high), and a press needs {low:g} to "
            f"{length(high)}. Name another spacer in your settings."
        )
    return (
        f"None of your foams, in up to {profile.press.most_layers:.0f} layers, leaves the panel "
        f"{low:g} to {length(high)} above a battery {length(wish.height)} high."
    )


def no_fold(wish: Wish, distance: float, edge: float) -> str:
    """No flap fits."""
    return (
        f"The back sheet cannot be folded over the battery there: the flap's contact lies "
        f"{length(2.0 * distance)} from the battery's middle and {length(edge + wish.contact)} "
        "inside the back sheet's edge, and the flap may take no window, light, foam or fold along "
        "or cover one."
    )


def no_tab(profile: Profile) -> str:
    """No pull tab finds its way out."""
    return (
        f"A pull tab {length(profile.press.tab_width)} wide finds no straight way from there to an "
        "edge past windows, lights, overlaps and folds."
    )
