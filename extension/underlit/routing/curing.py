"""What would let the tape through: cures are laid before they are offered."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Protocol

from .board import Board
from .changing import freed, moved, narrower
from .layout import Cure
from .necks import Neck, Thing
from .nets import Key
from .task import Task


class Try(Protocol):
    """Lays a task at its limits: a board, or None. `negotiating`: as hard as it can."""

    def __call__(self, task: Task, negotiating: bool = True) -> Board | None: ...


#: So many cures are offered at most.
MOST = 3

#: A light nearer than this to its neck may help by moving (mm), at most so far.
NEAR, FARTHEST = 25.0, 12.0


def cures_of(
    task: Task, neck: Neck, missing: float | None, key: Key, lay: Try, out: Callable[[], bool]
) -> tuple[Cure, ...]:
    """Up to three cures of a neck; `missing` mm are known to open it (None: not known).

    Once the time is over no more are tried out.
    """
    # the first is known without trying
    wider = None if missing is None else _wider(neck, missing)
    found = [] if wider is None else [wider]
    for attempt in _attempts(task, neck, missing, key, lay):
        if len(found) == MOST or out():
            break
        cure = attempt()
        if cure is not None:
            found.append(cure)
    return tuple(found)


def _attempts(
    task: Task, neck: Neck, missing: float | None, key: Key, lay: Try
) -> list[Callable[[], Cure | None]]:
    """What to try out, cheap ones first; each gives None where it does not help."""
    of_light: list[Callable[[], Cure | None]] = [
        lambda: _turned(task, key, lay),
        lambda: _moved(task, neck, missing, key, lay),
    ]
    return [
        *(of_light if key[0] == "light" else ()),
        lambda: _narrower(task, lay),
        lambda: _over_paper(task, lay),
    ]


def _wider(neck: Neck, missing: float) -> Cure | None:
    """The neck made wider: windows, edges, strips can; a light has its own cure."""
    if neck.first.kind == neck.second.kind == "foot":
        return None
    return Cure("wider", amount=round(missing, 3), between=(neck.first.name, neck.second.name))


def _turned(task: Task, key: Key, lay: Try) -> Cure | None:
    """The light turned as it likes, where it may not by itself."""
    light = task.lights[key[1]]
    if light.turn == "free":
        return None
    board = lay(freed(task, key[1]))
    if board is None:
        return None
    by = (board.angles[key[1]] - light.angle + 180.0) % 360.0 - 180.0
    return None if abs(by) < 1.0 else Cure("turn", amount=round(by, 1), light=light.id)


def _moved(task: Task, neck: Neck, missing: float | None, key: Key, lay: Try) -> Cure | None:
    """The light moved along the neck's line, off the nearer of its things."""
    light, step = task.lights[key[1]], missing or max(neck.needed - neck.available, 0.5)
    far = ((light.at[0] - neck.at[0]) ** 2 + (light.at[1] - neck.at[1]) ** 2) ** 0.5
    if far > NEAR:
        return None
    for by in (step + 0.1, 2.0 * step + 0.5):
        for sign in _signs(neck, key):
            way = (sign * by * neck.way[0], sign * by * neck.way[1])
            if by <= FARTHEST and lay(moved(task, key[1], way)) is not None:
                return Cure("move", amount=round(by, 3), light=light.id, way=way)
    return None


def _signs(neck: Neck, key: Key) -> tuple[float, ...]:
    """Which way along the neck's line a light goes first: away from the other thing."""

    def is_own(thing: Thing) -> bool:
        return thing.kind == "foot" and thing.number == key[1]

    if is_own(neck.first):
        return (1.0,)
    return (-1.0,) if is_own(neck.second) else (1.0, -1.0)


def _narrower(task: Task, lay: Try) -> Cure | None:
    """The widest of the narrower tapes that does."""
    for width in sorted(task.limits.widths, reverse=True):
        if width < task.limits.width - 1e-6 and lay(narrower(task, width)) is not None:
            return Cure("narrower", amount=width)
    return None


def _over_paper(task: Task, lay: Try) -> Cure | None:
    """One strip over the other with paper between."""
    if task.choices.patches:
        return None
    allowed = dataclasses.replace(task, choices=dataclasses.replace(task.choices, patches=True))
    # without paper all has been tried before
    board = lay(allowed, negotiating=False)
    return None if board is None else Cure("paper", amount=float(len(board.crossings)))
