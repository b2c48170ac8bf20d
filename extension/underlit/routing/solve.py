"""Route a board: a first valid layout soon, then only better ones.

The effort fixes what is tried and so the result; the clock only cuts off, never before a first
layout.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator
from random import Random

from ..records import record
from ..units import TOLERANCE
from .assemble import assembled, least_overhang, shown_too_much
from .board import Board, Key, Room
from .layout import Layout, NoRoom, Refusal
from .polish import Polisher
from .precheck import reasons
from .price import Prices, cost_of, prices_of
from .rails import along
from .ripup import rip_up
from .task import Clock, Light, Task
from .tour import Lands, Tour, guided, orders
from .weave import relay, turned, weave

#: Rounds of laying one side through the other.
RIPS = 14


@record
class Search:
    """What one run of routing works with."""

    task: Task
    prices: Prices
    out: Callable[[], bool]
    random: Random


def route(task: Task, clock: Clock | None = None) -> Layout | Refusal:
    """The best layout that effort and seconds allow, or why there is none."""
    last: Layout | Refusal | None = None
    for last in layouts(task, clock):
        pass
    assert last is not None
    return last


def layouts(task: Task, clock: Clock | None = None) -> Iterator[Layout | Refusal]:
    """A first valid layout, then better ones; or one refusal."""
    wrong = reasons(task)
    if wrong:
        yield Refusal(wrong)
        return
    search = Search(task, prices_of(task.choices), _timer(task, clock), Random(task.choices.seed))
    cut_off: list[Key] = []
    for room in rooms(task):
        found = False
        for board in _boards(search, room, cut_off):
            layout = _finished(search, board)
            if layout is not None:
                found = True
                yield layout
        if found:
            return
    yield Refusal((), _explained(task, cut_off))


def _timer(task: Task, clock: Clock | None) -> Callable[[], bool]:
    seconds = task.choices.seconds
    if clock is None or seconds is None:
        return lambda: False
    start = clock()
    return lambda: clock() - start > seconds


def rooms(task: Task) -> list[Room]:
    """Distances to try, from the aims down to the limits."""
    limits, corners = task.limits, task.choices.corners
    half = limits.width / 2.0
    past = least_overhang(limits.width, limits.joint_cover, corners)
    # what the corners of an end stick out more is within the tolerance
    half = max(half, (half * half + past * past) ** 0.5 - 0.8 * TOLERANCE)
    pitch = min(math.dist(*_middles(light)) for light in task.lights)
    found: list[Room] = []
    for part in (1.0, 0.5, 0.0):
        gap = limits.gap + part * (limits.aim_gap - limits.gap)
        gap = max(limits.gap, min(gap, pitch - 2.0 * half - 0.01))
        edge = limits.edge + part * (limits.aim_edge - limits.edge)
        least = limits.pad_cover
        cover = max(least, limits.pad_cover + part * (limits.aim_pad - limits.pad_cover))
        joint = limits.joint_cover + part * (limits.aim_joint - limits.joint_cover)
        room = Room(half, gap, edge, cover, least, joint * limits.width**2)
        if not found or dataclasses.astuple(room) != dataclasses.astuple(found[-1]):
            found.append(room)
    return found


def _middles(light: Light) -> list[tuple[float, float]]:
    return [(pad.centroid.x, pad.centroid.y) for pad in (light.positive, light.negative)]


def _boards(search: Search, room: Room, cut_off: list[Key]) -> Iterator[Board]:
    """Better and better boards at these distances; none where no tour can be woven."""
    board = Board(search.task, room)
    lands = Lands(board)
    effort = max(1, search.task.choices.effort)
    tours = [
        guided(lands, board, path, length)
        for length, path in orders(lands, 2 + 2 * effort, search.random)
    ]
    best: Board | None = None
    for number, tour in enumerate(tours):
        if best is not None and (number >= 1 + effort or search.out()):
            break
        for new in _woven(search, board, tour, cut_off):
            if best is None or cost_of(new, search.prices) < cost_of(best, search.prices) - 0.01:
                best = new
                yield new
            if search.out():
                break
    if best is not None:
        yield from _improved(search, best, effort)


def _woven(search: Search, board: Board, tour: Tour, cut_off: list[Key]) -> Iterator[Board]:
    """Layouts along one tour, each polished and within the openings' shares."""
    found = False
    for new in _raw(search, board, tour, cut_off):
        Polisher(new, search.prices, search.out).settle(4)
        shown = _kept_small(search, new)
        if shown is not None:
            found = True
            yield shown
    if found:
        return
    last = len(board.nets) - 1
    for first in (last - 1, last):
        start = turned(board, tour.angles)
        new = rip_up(start, search.prices.run, RIPS, first, search.random)
        if new is not None:
            Polisher(new, search.prices, search.out).settle(4)
            shown = _kept_small(search, new)
            if shown is not None:
                yield shown
                return


def _raw(search: Search, board: Board, tour: Tour, cut_off: list[Key]) -> Iterator[Board]:
    last = len(board.nets) - 1
    for first in (last - 1, last):
        new, missed = weave(board, tour, first, search.prices.run)
        cut_off += missed
        if not missed:
            yield new
    rails = along(board, tour, search.prices.run)
    if rails is not None:
        yield rails


def _kept_small(search: Search, board: Board) -> Board | None:
    """A board whose openings show no more tape than they may: they get dearer until so."""
    for _ in range(4):
        shown = shown_too_much(board)
        if not shown:
            return board
        board.windows = board.windows.dearer(shown)
        for net in range(len(board.nets)):
            new = relay(board, net, search.prices.run)
            if new is not None and cost_of(new, search.prices) < cost_of(board, search.prices):
                board = new
        Polisher(board, search.prices, search.out).settle(2)
    return None


def _improved(search: Search, best: Board, effort: int) -> Iterator[Board]:
    """Nets laid anew in turn as long as that helps."""
    for _ in range(effort):
        helped = False
        for net in range(len(best.nets)):
            if search.out():
                return
            new = relay(best, net, search.prices.run)
            if new is None:
                continue
            Polisher(new, search.prices, search.out).settle(4)
            better = cost_of(new, search.prices) < cost_of(best, search.prices) - 0.01
            if better and not shown_too_much(new):
                best, helped = new, True
                yield best
        if not helped:
            return


def _finished(search: Search, board: Board) -> Layout | None:
    layout = assembled(board, search.prices)
    if layout is None:
        return None
    return dataclasses.replace(layout, ended=search.out())


def _explained(task: Task, cut_off: list[Key]) -> tuple[NoRoom, ...]:
    """What kept tape from each pad that was cut off."""
    from .explain import explain

    return explain(task, rooms(task)[-1], cut_off)
