"""Why a pad cannot be reached: the neck on its way, what it needs and has, and what would help.

Everything is made smaller by one share until there is a way; the place that is narrowest on it
at full size is the neck. How much wider it has to be is found by trying: as said it lets tape
through, half of that does not. Cures are tried by laying before they are offered.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from ..records import record
from .board import Board
from .changing import shrunk, widened
from .curing import Try, cures_of
from .layout import Cure, NoRoom
from .levels import rooms
from .necks import Neck, necks_on
from .nets import Key, owner_of
from .task import Task

#: Shares are found within this, down to the smallest.
FINE, SMALLEST = 0.02, 0.12

#: Necks on one way that are looked at.
LOOKED_AT = 4

#: A neck is made wider by at most this share, and this much, over what its strips need (mm).
MORE_SHARE, MORE = 1.5, 2.0

#: Amounts are found within this share of themselves.
EXACT = 0.1


@record
class _Found:
    """A neck, how much wider it must be (mm; None: that alone is not known to help), cures."""

    neck: Neck
    missing: float | None
    cures: tuple[Cure, ...]


def explain(
    task: Task, cut_off: Sequence[Key], lay: Try, out: Callable[[], bool]
) -> tuple[NoRoom, ...]:
    """One explanation for each pad that was cut off.

    `lay` lays a task, or gives None; `out` says when the time for trying is over.
    """
    board = _smaller(task, lay, out) or Board(task, rooms(task)[-1])
    cut_off = cut_off or _narrowest(board, task)
    found: list[NoRoom] = []
    known: list[_Found] = []
    for key in cut_off:
        necks = necks_on(board, task, key)
        if not necks:
            found.append(_nowhere(task, key))
            continue
        same = next((k for k in known if _is_same(k.neck, necks)), None)
        if same is None:
            same = _measured(task, necks, key, lay, out)
            known.append(same)
        found.append(_told(task, key, same))
    return tuple(found)


def _narrowest(board: Board, task: Task) -> list[Key]:
    """The pad behind the narrowest neck of all, where every single pad could be reached."""
    pads = [key for key in board.net_of if key[0] == "light"]
    necks = {key: necks_on(board, task, key)[:1] for key in pads}
    pads.sort(key=lambda key: (necks[key][0].ratio if necks[key] else 2.0, key))
    return pads[:1]


def _smaller(task: Task, lay: Try, out: Callable[[], bool]) -> Board | None:
    """A board laid with everything smaller by the largest share that lets all tape through."""
    low, high, best = SMALLEST, 1.0, None
    share = 0.8
    while high - low > FINE and not out():
        board = lay(shrunk(task, share), negotiating=False)
        if board is None:
            high = share
        else:
            low, best = share, board
        share = (low + high) / 2.0
        if best is None and high < 2.0 * SMALLEST:
            return None
    return best


def _is_same(neck: Neck, others: Sequence[Neck]) -> bool:
    first = others[0]
    names = {neck.first.name, neck.second.name}
    return names == {first.first.name, first.second.name} and math.dist(neck.at, first.at) < 12.0


def _measured(
    task: Task, necks: Sequence[Neck], key: Key, lay: Try, out: Callable[[], bool]
) -> _Found:
    """The neck that helps when it is made wider, and by how much; else the narrowest."""
    for neck in necks[:LOOKED_AT]:
        if out():
            break
        missing = _missing(task, neck, lay, out)
        if missing is not None:
            return _Found(neck, missing, cures_of(task, neck, missing, key, lay, out))
    neck = necks[0]
    return _Found(neck, None, cures_of(task, neck, None, key, lay, out))


def _missing(task: Task, neck: Neck, lay: Try, out: Callable[[], bool]) -> float | None:
    """How much wider a neck must be (mm), by trying: half of it does not do.

    None where that is not known, also because the time was over before.
    """

    def opens(by: float, negotiating: bool = False) -> bool:
        wider = widened(task, neck, by)
        return wider is not None and not out() and lay(wider, negotiating) is not None

    least = max(neck.needed - neck.available, 0.2)
    amounts = (least + 0.35, least + 0.8, MORE_SHARE * least + 0.8, 2.0 * least + MORE)
    high = next((by for by in amounts if opens(by)), None)
    if high is None and opens(amounts[-1], negotiating=True):
        high = amounts[-1]
    if high is None:
        return None
    low = high / 2.0
    while opens(low, negotiating=True):
        high, low = low, low / 2.0
        if high < 0.05:
            return high
    if out():  # whether half of it would do is not known
        return None
    while high - low > EXACT * high and not out():
        middle = (low + high) / 2.0
        if opens(middle):
            high = middle
        else:
            low = middle
    return high


def _told(task: Task, key: Key, found: _Found) -> NoRoom:
    neck = found.neck
    needed = neck.needed if found.missing is None else neck.available + found.missing
    return NoRoom(
        owner_of(task, key)[0],
        key[2],
        neck.at,
        (neck.first.name, neck.second.name),
        round(needed, 3),
        round(neck.available, 3),
        found.cures,
        neck.ends,
    )


def _nowhere(task: Task, key: Key) -> NoRoom:
    """A pad that no neck explains: the place is what it belongs to."""
    name, at = owner_of(task, key)
    return NoRoom(name, key[2], at, None, 0.0, 0.0)
