"""Whether tape could be laid at all: a few quick tries at the limits, for explanations."""

from __future__ import annotations

from .assemble import shown_too_much
from .board import Board
from .bridging import bridged
from .drafts import finished, raw, woven
from .levels import Level, held, rooms, search_of
from .precheck import reasons
from .task import Task

#: Tours that are woven; of these so many are negotiated where none can be woven.
WOVEN, NEGOTIATED = 3, 1


def probe(task: Task, negotiating: bool = True) -> Board | None:
    """A sound board of a task at its limits; None where none is found soon.

    `negotiating`: where none can be woven, one is negotiated (dear).
    """
    if reasons(task):
        return None
    task = held(task)
    search = search_of(task, lambda: False)
    level = Level(search, rooms(task)[-1])
    for tour in level.tours[:WOVEN]:
        for board in raw(search, level.board, tour):
            if finished(search, board) is not None and not shown_too_much(board):
                return board
    for tour in level.tours[:NEGOTIATED] if negotiating else []:
        for board in woven(search, level.board, tour):
            if finished(search, board) is not None:
                return board
    if task.choices.patches:
        for tour in level.tours[:NEGOTIATED]:
            for board in bridged(level.board, tour, search.prices.run):
                if finished(search, board) is not None:
                    return board
    return None
