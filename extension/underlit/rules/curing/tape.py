"""What could be done to the tape: the other end, fewer overlaps, wider tape that keeps its gaps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shapely.geometry import LineString

from ...language import figure, say, say_count
from ...model.card import Card, Part, Strip
from ...model.case import Case
from ...model.circuit import SIGN
from ...model.operation import Change, Feed
from .. import (
    cell_rim_touch,
    edge_too_near,
    folded_touch,
    gap_too_small,
    joint_too_small,
    light_shorted,
    off_base,
    pad_barely_covered,
    polarities_touch,
    tape_on_fold,
    tape_shows,
)
from ..wording import SIDE
from .states import Option, Purse, State, breaks, rewired

#: Tape that is led round is longer than the straight line by this.
ROUND = 1.3

#: An overlap this near to the ends of both strips, in widths, joins them end to end.
END = 1.5

#: What reading a card's circuit anew costs, in trials.
REWIRING = 4

#: Rules that wider tape could break.
KEPT = (
    polarities_touch.check,
    light_shorted.check,
    cell_rim_touch.check,
    pad_barely_covered.check,
    joint_too_small.check,
    gap_too_small.check,
    off_base.check,
    folded_touch.check,
    edge_too_near.check,
    tape_shows.check,
    tape_on_fold.check,
)


def other_end(case: Case, state: State, light: Part) -> Iterator[Option]:
    """A new strip from the battery to the far end of one side, instead of where it starts now."""
    tape, cells = case.profile.tape, case.card.cells
    used = {(feed.cell, feed.pad) for feed in state.change.feeds}
    for pad in ("negative-pad", "positive-pad"):
        if len(cells) > 1 or (cells[0].id, pad) in used:
            continue
        straight = cells[0].features[pad].distance(light.features[pad])
        length = max(straight * ROUND, tape.width)
        feed = Feed(cells[0].id, light.id, pad, length / tape.width, tape.width)
        words = say(
            "Start the {side} tape at {light}, if there is room: about {length} mm of new tape "
            "from the battery to there, and none to where it starts now",
            side=say(SIDE[SIGN[pad]]),
            light=case.inner(light),
            length=round(length),
        )
        yield Option(words, state.then(Change(feeds=(feed,))))


def one_piece(case: Case, state: State) -> Iterator[Option]:
    """Strips that meet end to end, laid as one."""
    if state.base is not case or state.change.whole:
        return
    meeting = frozenset(_end_to_end(case))
    if meeting:
        words = say_count(
            "Lay strips that meet end to end as one long strip ({number} overlap less)",
            "Lay strips that meet end to end as one long strip ({number} overlaps less)",
            len(meeting),
        )
        yield Option(words, state.then(Change(whole=meeting)))


def _end_to_end(case: Case) -> Iterator[int]:
    """Contacts between two strips at an end of both."""
    circuit = case.circuit
    for i in circuit.live:
        contact = circuit.contacts[i]
        pair = (circuit.conductors[contact.upper].strip, circuit.conductors[contact.lower].strip)
        if all(strip is not None and _near_end(strip, contact.place) for strip in pair):
            yield i


def _near_end(strip: Strip, place: object) -> bool:
    line = strip.line
    if not isinstance(line, LineString):
        return False
    near = END * strip.width
    return any(end.distance(place) <= near for end in line.boundary.geoms)


def wider(case: Case, state: State, purse: Purse) -> Iterator[Option]:
    """The same strips from wider stock, where no gap, edge or window minds."""
    if state.change.whole or any(strip.line is None for strip in case.card.strips):
        return
    now = max((strip.width for strip in state.base.card.strips), default=0.0)
    for width in sorted(case.profile.tape.stock_widths):
        if width <= now + 0.01:
            continue
        if not purse.spend(REWIRING):
            return
        changed = rewired(case, _widened(case.card, width))
        if breaks(case, changed, KEPT):
            return
        words = say("Use tape {width} mm wide", width=figure(width))
        yield Option(words, State(changed, state.change))


def _widened(card: Card, width: float) -> Card:
    """All strips at least so wide, along the same lines."""
    return replace(card, strips=tuple(_wide(strip, width) for strip in card.strips))


def _wide(strip: Strip, width: float) -> Strip:
    assert strip.line is not None
    if strip.width >= width:
        return strip
    area = strip.line.buffer(width / 2.0, cap_style="flat", join_style="mitre")
    return replace(strip, geometry=area, width=width)
