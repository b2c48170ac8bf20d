"""Why a battery does not fit, in a maker's words and with figures."""

from __future__ import annotations

from ..language import decimal, later, mm, say
from ..profiles import Profile
from .power_data import Hindrance, Wish
from .power_room import Miss

#: What moves with a battery, as a sentence begins with it.
SUBJECTS = {
    "battery": later("The battery"),
    "paper ring": later("The battery's paper ring"),
    "press ring": later("The press ring"),
}


def sentence(miss: Miss) -> Hindrance:
    """One unmet need."""
    need = miss.need
    subject = say(SUBJECTS[need.subject])
    if miss.there < 0.005:
        words = _reaching(miss, subject)
    else:
        words = say(
            "{subject} would be {distance} from {thing}, and {limit} are needed.",
            subject=subject,
            distance=_short_of(miss.there, need.limit),
            thing=need.thing,
            limit=mm(need.limit),
        )
    return Hindrance(words, need.foam)


def _reaching(miss: Miss, subject: str) -> str:
    """Of a need whose shapes touch or overlap."""
    need, deep = miss.need, mm(-miss.there)
    if miss.there >= -0.005:
        words = say("{subject} would reach right up to {thing}", subject=subject, thing=need.thing)
    elif need.inside:
        words = say(
            "{subject} would reach {deep} beyond {thing}",
            subject=subject,
            deep=deep,
            thing=need.thing,
        )
    else:
        words = say(
            "{subject} would reach {deep} into {thing}",
            subject=subject,
            deep=deep,
            thing=need.thing,
        )
    if not need.limit:
        return f"{words}."
    return say("{reach}; it must keep {limit} clear.", reach=words, limit=mm(need.limit))


def _short_of(there: float, limit: float) -> str:
    """A distance with enough decimals to differ from the limit that it misses."""
    text = mm(there)
    return text if text != mm(limit) else decimal(f"{there:.2f} mm")


def no_foam(wish: Wish, profile: Profile) -> Hindrance:
    """No layers of foam leave the travel of a press."""
    low, high = sorted(profile.press.travel)
    least, most, height = decimal(f"{low:g}"), mm(high), mm(wish.height)
    foam = wish.foam
    if foam is None or foam.travel is None or foam.foams:
        words = say(
            "None of your foams, in up to {layers} layers, leaves the panel {least} to {most} "
            "above a battery {height} high.",
            layers=f"{profile.press.most_layers:.0f}",
            least=least,
            most=most,
            height=height,
        )
    elif foam.travel > 0.0:
        words = say(
            "Your foam of {foam} settles to {left}: the panel is {travel} above the battery "
            "({height} high), and a press needs {least} to {most}. Name another spacer in your "
            "settings.",
            foam=mm(foam.thickness),
            left=mm(wish.height + foam.travel),
            travel=mm(foam.travel),
            height=height,
            least=least,
            most=most,
        )
    else:
        words = say(
            "Your foam of {foam} settles to {left}: the panel is no higher than the battery "
            "({height} high), and a press needs {least} to {most}. Name another spacer in your "
            "settings.",
            foam=mm(foam.thickness),
            left=mm(wish.height + foam.travel),
            height=height,
            least=least,
            most=most,
        )
    return Hindrance(words, True)


def no_fold(wish: Wish, distance: float, edge: float) -> Hindrance:
    """No flap fits."""
    words = say(
        "The back sheet cannot be folded over the battery there: the flap's contact lies {far} "
        "from the battery's middle and {inside} inside the back sheet's edge, and the flap may "
        "take no window, light, foam or fold along or cover one.",
        far=mm(2.0 * distance),
        inside=mm(edge + wish.contact),
    )
    return Hindrance(words, True)


def no_tab(profile: Profile) -> Hindrance:
    """No pull tab finds its way out."""
    words = say(
        "A pull tab {width} wide finds no straight way from there to an edge past windows, lights, "
        "overlaps and folds.",
        width=mm(profile.press.tab_width),
    )
    return Hindrance(words, False)
