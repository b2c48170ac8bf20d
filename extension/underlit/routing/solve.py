"""Route a board: a first valid layout soon, then only better ones.

The effort fixes what is tried and so the result; the clock only cuts off, never before a first
layout.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator

from .allowance import moves_of
from .alone import out_of_reach
from .assemble import shown_too_much
from .board import Board
from .drafts import alike, finished, first_board, over_paper, woven
from .explain import explain
from .layout import Layout, NoRoom, Refusal
from .levels import Level, Search, held, rooms, search_of, timer
from .nets import Key
from .polish import Polisher
from .precheck import reasons
from .price import cost_of
from .probing import probe
from .task import Clock, Task
from .weave import relay, weave

#: With more lights than these, fewer tours are tried for the same effort.
FEW, MANY = 8, 24

#: Cures are looked for this many times longer than layouts: without any there is nothing to do.
PATIENCE = 3.0


def route(task: Task, clock: Clock | None = None) -> Layout | Refusal:
    """The best layout that effort and seconds allow, or why there is none."""
    out = timer(task, clock)
    last = list(layouts(task, clock))[-1]
    if isinstance(last, Refusal):
        return last
    # a search that the clock cut off after its best layout has ended early all the same; of a
    # card on which nothing is left to lay there is no better one
    return dataclasses.replace(last, ended=bool(last.strips) and (last.ended or out()))


def layouts(task: Task, clock: Clock | None = None) -> Iterator[Layout | Refusal]:
    """A first valid layout, then better ones; or one refusal.

    Better is: laid at distances nearer to the aims; at the same distances, cheaper.
    """
    wrong = reasons(task)
    if wrong:
        yield Refusal(wrong)
        return
    task = held(task)
    search = search_of(task, timer(task, clock))
    levels = [Level(search, room) for room in rooms(task)]
    cut_off = [] if task.choices.patches else out_of_reach(levels[-1].board)
    if cut_off:
        yield Refusal((), explain(task, cut_off, probe, timer(task, clock, PATIENCE)))
        return
    start = first_board(search, levels)
    if start is None and task.sketches:
        yield from layouts(dataclasses.replace(task, sketches=()), clock)
        return
    if start is None and task.choices.patches:
        over = over_paper(search, levels[-1])
        if over is not None:
            yield over
            return
    if start is None:
        yield Refusal((), _explained(task, levels[-1], timer(task, clock, PATIENCE)))
        return
    best = math.inf
    number, board = start
    search.out.left = moves_of(task)
    layout = finished(search, board)
    if layout is not None:
        yield layout
        if not layout.strips:
            return
    for higher in range(number + 1):
        for better in _boards(search, levels[higher], board if higher == number else None):
            layout = finished(search, better)
            if layout is not None and layout.cost < best - 0.01:
                best = layout.cost
                yield layout
        if best < math.inf or search.out():
            return


def _boards(search: Search, level: Level, start: Board | None) -> Iterator[Board]:
    """Better and better boards at one level; none where no tour can be woven there."""
    effort = max(1, search.task.choices.effort)
    best: Board | None = None
    if start is not None:
        best = _smoothed(search, start)
        yield best
    rough: list[tuple[float, int, Board]] = []
    tours, last = _shares(len(search.task.lights), effort)
    for number, tour in enumerate(level.tours[:tours]):
        if search.out():
            break
        # to negotiate is dear and seldom pays beside what was woven
        for new in woven(search, level.board, tour, best is None and number <= effort):
            rough.append((cost_of(new, search.prices), len(rough), new))
            if best is None or rough[-1][0] < cost_of(best, search.prices) - 0.01:
                best = new
                yield new
            if search.out():
                break
    for _, _, draft in sorted(rough, key=lambda r: r[:2])[:last]:
        assert best is not None
        if search.out():
            break
        done = _seated(search, draft)
        if done is not None and cost_of(done, search.prices) < cost_of(best, search.prices) - 0.01:
            best = done
            yield done
    if best is not None:
        yield from _improved(search, best, effort)


def _shares(lights: int, effort: int) -> tuple[int, int]:
    """How many tours are laid roughly, and how many layouts polished to the end."""
    if lights > MANY:
        return 1 + effort // 4, 1 + effort // 4
    if lights > FEW:
        return 2 + effort, 1 + (effort + 1) // 2
    return 2 + 2 * effort, 1 + effort


def _smoothed(search: Search, board: Board) -> Board:
    """A board polished soon, or as it was should an opening then show too much."""
    new = board.clone()
    turning = not alike(search, new)
    Polisher(new, search.prices, search.out).settle(2, turning=turning, seating=False)
    return board if shown_too_much(new) else new


def _seated(search: Search, board: Board) -> Board | None:
    """A board polished to the end, lights seated anew; None should an opening show too much."""
    new = board.clone()
    Polisher(new, search.prices, search.out).settle(4, turning=not alike(search, new))
    return None if shown_too_much(new) else new


def _improved(search: Search, best: Board, effort: int) -> Iterator[Board]:
    """Nets laid anew in turn as long as that helps."""
    for _ in range(effort):
        helped = False
        for net in range(len(best.nets)):
            if search.out():
                return
            new = _relaid(search, best, net)
            if new is None:
                continue
            Polisher(new, search.prices, search.out).settle(4, turning=not alike(search, new))
            better = cost_of(new, search.prices) < cost_of(best, search.prices) - 0.01
            if better and not shown_too_much(new):
                best, helped = new, True
                yield best
        if not helped:
            return


def _relaid(search: Search, board: Board, net: int) -> Board | None:
    """A net laid anew, by way of its best junctions where that begins cheaper.

    Not where pads are to be covered by more than an end does: with junctions most pads are ends.
    """
    ends_do = board.room.cover <= board.room.least_cover
    ways = (False, True) if ends_do and len(search.task.lights) <= MANY else (False,)
    made = [relay(board, net, search.prices.run, hubs) for hubs in ways]
    laid = [new for new in made if new is not None]
    return min(laid, key=lambda new: cost_of(new, search.prices), default=None)


def _explained(task: Task, level: Level, out: Callable[[], bool]) -> tuple[NoRoom, ...]:
    """What kept tape from each pad that was cut off."""
    fewest: list[Key] | None = None
    for tour in level.tours[:2]:
        for first in (len(level.board.nets) - 2, len(level.board.nets) - 1):
            missed = weave(level.board, tour, first, 1.0)[1]
            if fewest is None or len(missed) < len(fewest):
                fewest = missed
    return explain(task, fewest or [], probe, out)
