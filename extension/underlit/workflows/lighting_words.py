"""What is said when lights are placed: how many, what cannot be lit and why, what to do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..language import and_more, figure, later, mm, say, say_count
from ..model.card import Card, Opening
from ..model.finding import Finding
from ..placement.outcome import Placement, Unlit
from ..rules.opening_not_lit import finding as not_lit
from ..rules.wording import against
from .lighting import BOTH, COVER, FOAM, IN_THE_WAY, PIECE

#: More windows than this are not named one by one in the closing words.
MOST_NAMED = 4

#: What to do about windows that the battery cannot feed.
THICKER = later("Choose the windows that matter most, or take a thicker battery.")

#: What covers a window, and what to do about it.
LIES = {
    PIECE: later("A piece stays in window {number}"),
    FOAM: later("Foam lies over window {number}"),
    COVER: later("The cover lies over window {number}"),
    BOTH: later("Foam and the cover lie over window {number}"),
}
UNCOVER = {
    PIECE: later("Leave that piece out, take a smaller light, or leave the window dark."),
    FOAM: later("Cut foam away over the window, or move it aside."),
    COVER: later("Cut the cover away over the window, or move it aside."),
    BOTH: later("Cut foam and the cover away over the window, or move it aside."),
}


def closing_words(
    placement: Placement,
    already: Sequence[Opening],
    removed: Sequence[str],
    findings: Sequence[Finding],
    battery: str,
) -> str:
    """The closing message: 3 lights placed. Window 5 is too small for this light (...)."""
    first, *rest = done_words(placement, already, removed, battery)
    dark = [finding.message for finding in findings]
    lines = [" ".join([first, *dark[:1]]), *dark[1:MOST_NAMED], *rest]
    if len(dark) > MOST_NAMED:
        lines.append(
            say_count(
                "{number} more window stays dark.",
                "{number} more stay dark.",
                len(dark) - MOST_NAMED,
            )
        )
    if findings and not placement.lights:
        lines.append(findings[0].remedy)
    return "\n".join(lines)


def done_words(
    placement: Placement, already: Sequence[Opening], removed: Sequence[str], battery: str
) -> list[str]:
    """What was done, and what was not needed. `battery`: what it feeds."""
    n = len(placement.lights)
    lines = [say("No light placed.")]
    if n:
        lines = [say_count("{number} light placed.", "{number} lights placed.", n)]
    if removed:
        away = say_count(
            "{number} earlier one taken away.", "{number} earlier ones taken away.", len(removed)
        )
        lines[0] += f" {away}"
    if already:
        lines.append(
            say_count(
                "Window {windows} has light already.",
                "Windows {windows} have light already.",
                len(already),
                windows=and_more([opening.number for opening in already], MOST_NAMED),
            )
        )
    unfed = any(one.reason == "battery" for one in placement.unlit)
    if placement.proposed is not None and not unfed:
        lines.append(
            say_count(
                "By their length the windows would take {number} light; {battery}, so some get "
                "fewer.",
                "By their length the windows would take {number} lights; {battery}, so some get "
                "fewer.",
                placement.proposed,
                battery=battery,
            )
        )
    tight = sum(light.room == "tight" for light in placement.lights)
    if tight:
        lines.append(
            say_count(
                "{number} light has little room for tape.",
                "{number} lights have little room for tape.",
                tight,
            )
        )
    lines += [_across(placement)] if any(light.across for light in placement.lights) else []
    return lines


def _across(placement: Placement) -> str:
    """Lights that lie on tape which is there already."""
    numbers = sorted({light.number for light in placement.lights if light.across})
    return say_count(
        "The light of window {windows} lies across tape that is there already: lay the tape anew "
        "(step 4).",
        "The lights of windows {windows} lie across tape that is there already: lay the tape anew "
        "(step 4).",
        len(numbers),
        windows=and_more(numbers, MOST_NAMED),
    )


def nothing_to_light(card: Card) -> Finding:
    """The finding of a card that has nothing to light."""
    message = say("There is no window to light yet.")
    if not card.panels:
        message = say("I find no panel with windows to light.")
    return Finding(
        "layer-missing",
        "stop",
        None,
        (),
        message,
        say(
            "Draw the panel's edge and its windows on Die cut, then get the drawing ready (step 1)."
        ),
    )


def finding_of(
    one: Unlit, numbers: Mapping[str, int], lights: int, over: Sequence[str] = ()
) -> Finding:
    """The finding of one opening; `numbers` by name of opening, `lights`: how many there are.

    `over` are ids of what covers it.
    """
    if one.reason == "battery":
        fed = _fed(lights)
        message = say("Window {number} stays dark: {why}", number=one.number, why=fed)
        remedy = say(THICKER)
    else:
        message, remedy = _WORDS[one.reason](one, numbers)
    return not_lit(one.at, (one.opening, *over), message, remedy)


def in_one(findings: Sequence[Finding], placement: Placement, lights: int) -> tuple[Finding, ...]:
    """The findings as they are drawn and said: many windows that no battery feeds are one."""
    unfed = {one.opening for one in placement.unlit if one.reason == "battery"}
    if len(unfed) <= MOST_NAMED:
        return tuple(findings)
    rest = (finding for finding in findings if unfed.isdisjoint(finding.objects))
    message = say("{number} windows stay dark: {why}", number=len(unfed), why=_fed(lights))
    return (*rest, not_lit(None, (), message, say(THICKER)))


def _fed(lights: int) -> str:
    """How many lights the battery feeds, once they are all there."""
    return say_count(
        "the battery feeds no more than the {number} light there is.",
        "the battery feeds no more than the {number} lights there are.",
        lights,
    )


def _too_small(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    return (
        say(
            "Window {number} is too small for this light ({width} mm at its widest, needs "
            "{needed}).",
            number=one.number,
            width=against(one.measured, one.needed),
            needed=figure(one.needed),
        ),
        say(
            "Make it {width} wide somewhere, take a smaller light, or leave it dark.",
            width=mm(one.needed),
        ),
    )


def _covered(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    thing, needed = one.blocker or BOTH, figure(one.needed)
    if one.measured <= 0.0:
        left = say("nothing of it stays open (0 mm), this light needs {needed}.", needed=needed)
    else:
        left = say(
            "{width} mm of it stay open at the widest place, this light needs {needed}.",
            width=against(one.measured, one.needed),
            needed=needed,
        )
    return f"{say(LIES[thing], number=one.number)}: {left}", say(UNCOVER[thing])


def _no_base(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    return (
        say("There is no back sheet for a light under window {number}.", number=one.number),
        say("Draw the panel's outline on the Die cut layer, or mark a back sheet as Base."),
    )


def _off_base(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    return (
        say(
            "Under window {number} the light would hang {over} over the back sheet's edge.",
            number=one.number,
            over=mm(one.measured),
        ),
        say("Make the back sheet larger there."),
    )


def _no_room(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    return (
        say(
            "There is no room for a light under window {number}: it would be {distance} mm from "
            "{other}, needs {needed}.",
            number=one.number,
            distance=against(one.measured, one.needed),
            other=_called(one.blocker, numbers),
            needed=figure(one.needed),
        ),
        say("Move one of the two, let lights turn freely, or leave this window dark."),
    )


def _called(blocker: str | None, numbers: Mapping[str, int]) -> str:
    """What is in the way; a window stands for its light."""
    if not blocker:
        return say("its neighbour")
    if blocker in numbers:
        return say("the light of window {number}", number=numbers[blocker])
    if blocker in IN_THE_WAY.values():
        return say(blocker)
    return say("light {number}", number=blocker.removeprefix("light "))


def _fewer(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    there = f"{one.measured:.0f}"
    words = say_count(
        "Only {number} of {asked} lights finds room under window {window}",
        "Only {number} of {asked} lights find room under window {window}",
        int(there),
        asked=f"{one.needed:.0f}",
        window=one.number,
    )
    if one.because is not None:
        words += f": {_one_more(one, one.because, numbers)}"
    return f"{words}.", say("Ask for {number}, or take smaller lights.", number=there)


def _one_more(one: Unlit, why: Unlit, numbers: Mapping[str, int]) -> str:
    """What keeps one more light away."""
    if why.reason == "off-base":
        return say("one more would hang {over} over the back sheet's edge", over=mm(why.measured))
    other = say("the light next to it")
    if why.blocker != one.opening:
        other = _called(why.blocker, numbers)
    needed = figure(why.needed)
    if why.measured <= 0.0:
        return say(
            "one more would lie on {other} (0 mm apart, needs {needed})", other=other, needed=needed
        )
    return say(
        "one more would be {distance} mm from {other}, needs {needed}",
        distance=against(why.measured, why.needed),
        other=other,
        needed=needed,
    )


_WORDS = {
    "too-small": _too_small,
    "covered": _covered,
    "no-base": _no_base,
    "off-base": _off_base,
    "no-room": _no_room,
    "fewer": _fewer,
}
