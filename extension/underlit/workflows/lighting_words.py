"""What is said when lights are placed: how many, what cannot be lit and why, what to do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..model.card import Card, Opening
from ..model.finding import Finding
from ..placement.outcome import Placement, Unlit
from ..rules.opening_not_lit import finding as not_lit
from ..rules.wording import against, count, figure, mm
from .lighting import BOTH, COVER, FOAM, PIECE

#: More windows than this are not named one by one in the closing words.
MOST_NAMED = 4

#: What to do about windows that the battery cannot feed.
THICKER = "Choose the windows that matter most, or take a thicker battery."


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
        lines.append(f"{count(len(dark) - MOST_NAMED, 'more window stays', 'more stay')} dark.")
    if findings and not placement.lights:
        lines.append(findings[0].remedy)
    return "\n".join(lines)


def done_words(
    placement: Placement, already: Sequence[Opening], removed: Sequence[str], battery: str
) -> list[str]:
    """What was done, and what was not needed. `battery`: what it feeds."""
    n = len(placement.lights)
    lines = [f"{count(n, 'light', 'lights')} placed." if n else "No light placed."]
    if removed:
        lines[0] += f" {count(len(removed), 'earlier one', 'earlier ones')} taken away."
    if already:
        numbers = ", ".join(str(opening.number) for opening in already[:MOST_NAMED])
        more = len(already) - MOST_NAMED
        numbers += f" and {more} more" if more > 0 else ""
        windows = f"Window {numbers} has" if len(already) == 1 else f"Windows {numbers} have"
        lines.append(f"{windows} light already.")
    unfed = any(one.reason == "battery" for one in placement.unlit)
    if placement.proposed is not None and not unfed:
        lines.append(
            f"By their length the windows would take {count(placement.proposed, 'light', 'lights')}"
            f"; {battery}, so some get fewer."
        )
    tight = sum(light.room == "tight" for light in placement.lights)
    if tight:
        lines.append(f"{count(tight, 'light has', 'lights have')} little room for tape.")
    lines += [_across(placement)] if any(light.across for light in placement.lights) else []
    return lines


def _across(placement: Placement) -> str:
    """Lights that lie on tape which is there already."""
    numbers = sorted({light.number for light in placement.lights if light.across})
    windows = ", ".join(map(str, numbers[:MOST_NAMED]))
    windows += f" and {len(numbers) - MOST_NAMED} more" if len(numbers) > MOST_NAMED else ""
    lies = "The light of window" if len(numbers) == 1 else "The lights of windows"
    verb = "lies" if len(numbers) == 1 else "lie"
    return f"{lies} {windows} {verb} across tape that is there already: lay the tape anew (step 4)."


def nothing_to_light(card: Card) -> Finding:
    """The finding of a card that has nothing to light."""
    message = "There is no window to light yet."
    if not card.panels:
        message = "I find no panel with windows to light."
    return Finding(
        "layer-missing",
        "stop",
        None,
        (),
        message,
        "Draw the panel's edge and its windows on Die cut, then get the drawing ready (step 1).",
    )


def finding_of(
    one: Unlit, numbers: Mapping[str, int], lights: int, over: Sequence[str] = ()
) -> Finding:
    """The finding of one opening; `numbers` by name of opening, `lights`: how many there are.

    `over` are ids of what covers it.
    """
    if one.reason == "battery":
        message, remedy = f"Window {one.number} stays dark: {_fed(lights)}", THICKER
    else:
        message, remedy = _WORDS[one.reason](one, numbers)
    return not_lit(one.at, (one.opening, *over), message, remedy)


def in_one(findings: Sequence[Finding], placement: Placement, lights: int) -> tuple[Finding, ...]:
    """The findings as they are drawn and said: many windows that no battery feeds are one."""
    unfed = {one.opening for one in placement.unlit if one.reason == "battery"}
    if len(unfed) <= MOST_NAMED:
        return tuple(findings)
    rest = (finding for finding in findings if unfed.isdisjoint(finding.objects))
    message = f"{len(unfed)} windows stay dark: {_fed(lights)}"
    return (*rest, not_lit(None, (), message, THICKER))


def _fed(lights: int) -> str:
    """How many lights the battery feeds, once they are all there."""
    return (
        f"the battery feeds no more than the {count(lights, 'light', 'lights')} there "
        f"{'is' if lights == 1 else 'are'}."
    )


def _too_small(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    return (
        f"Window {one.number} is too small for this light "
        f"({against(one.measured, one.needed)} mm at its widest, needs {figure(one.needed)}).",
        f"Make it {mm(one.needed)} wide somewhere, take a smaller light, or leave it dark.",
    )


def _covered(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    thing = one.blocker or BOTH
    left = f"{against(one.measured, one.needed)} mm of it stay open at the widest place, this light"
    if one.measured <= 0.0:
        left = "nothing of it stays open (0 mm), this light"
    message = f"{_LIES[thing]} window {one.number}: {left} needs {figure(one.needed)}."
    if thing == PIECE:
        return message, "Leave that piece out, take a smaller light, or leave the window dark."
    return message, f"Cut {thing} away over the window, or move it aside."


_LIES = {
    PIECE: "A piece stays in",
    FOAM: "Foam lies over",
    COVER: "The cover lies over",
    BOTH: "Foam and the cover lie over",
}


def _off_base(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    del numbers
    return (
        f"Under window {one.number} the light would hang {mm(one.measured)} over the back sheet's "
        "edge.",
        "Make the back sheet larger there.",
    )


def _no_room(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    other = _called(one.blocker, numbers)
    return (
        f"There is no room for a light under window {one.number}: it would be "
        f"{against(one.measured, one.needed)} mm from {other}, needs {figure(one.needed)}.",
        "Move one of the two, let lights turn freely, or leave this window dark.",
    )


def _called(blocker: str | None, numbers: Mapping[str, int]) -> str:
    """What is in the way; a window stands for its light."""
    other = blocker or "its neighbour"
    return f"the light of window {numbers[other]}" if other in numbers else other


def _fewer(one: Unlit, numbers: Mapping[str, int]) -> tuple[str, str]:
    verb = "finds" if one.measured == 1.0 else "find"
    message = f"Only {one.measured:.0f} of {one.needed:.0f} lights {verb} room under window "
    message += f"{one.number}{_one_more(one, one.because, numbers)}."
    return message, f"Ask for {one.measured:.0f}, or take smaller lights."


def _one_more(one: Unlit, why: Unlit | None, numbers: Mapping[str, int]) -> str:
    """What keeps one more light away."""
    if why is None:
        return ""
    if why.reason == "off-base":
        return f": one more would hang {mm(why.measured)} over the back sheet's edge"
    other = "the light next to it"
    if why.blocker != one.opening:
        other = _called(why.blocker, numbers)
    if why.measured <= 0.0:
        return f": one more would lie on {other} (0 mm apart, needs {figure(why.needed)})"
    apart = against(why.measured, why.needed)
    return f": one more would be {apart} mm from {other}, needs {figure(why.needed)}"


_WORDS = {
    "too-small": _too_small,
    "covered": _covered,
    "off-base": _off_base,
    "no-room": _no_room,
    "fewer": _fewer,
}
