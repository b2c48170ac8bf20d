"""Route a board: a first valid layout soon, then only better ones.

The effort fixes what is tried and so the result; the clock only cuts off, never before a first
layout.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator
from random import Random

import shapely
from shapely.affinity import rotate, translate

from ..records import record
from ..units import TOLERANCE
from .assemble import assembled, least_overhang, shown_too_much
from .board import Board, Key, Room
from .bridging import bridged
from .layout import Layout, NoRoom, Refusal
from .polish import Polisher
from .precheck import reasons
from .price import Prices, cost_of, prices_of
from .rails import along, one_turn
from .ripup import rip_up
from .task import Clock, Light, Task
from .tour import Lands, Tour, guided, orders
from .weave import relay, turned, weave

#: Rounds of laying one side through the other.
RIPS = 14


#: With more lights than these, fewer tours are tried for the same effort.
FEW, MANY = 8, 40


@record
class Search:
    """What one run of routing works with."""

    task: Task
    prices: Prices
    out: Callable[[], bool]
    random: Random


def route(task: Task, clock: Clock | None = None) -> Layout | Refusal:
    """The best layout that effort and seconds allow, or why there is none."""
    return list(layouts(task, clock))[-1]


def layouts(task: Task, clock: Clock | None = None) -> Iterator[Layout | Refusal]:
    """A first valid layout, then better ones; or one refusal.

    Better is: laid at distances nearer to the aims; at the same distances, cheaper.
    """
    wrong = reasons(task)
    if wrong:
        yield Refusal(wrong)
        return
    task = _held(task)
    search = Search(task, prices_of(task.choices), _timer(task, clock), Random(task.choices.seed))
    levels = [Level(search, room) for room in rooms(task)]
    start = _first(search, levels)
    if start is None and task.sketches:
        yield from layouts(dataclasses.replace(task, sketches=()), clock)
        return
    if start is None and task.choices.patches:
        over = _over_paper(search, levels[-1])
        if over is not None:
            yield over
            return
    if start is None:
        yield Refusal((), _explained(task, levels[-1]))
        return
    best = math.inf
    number, board = start
    layout = _finished(search, board)
    if layout is not None:
        yield layout
    for higher in range(number + 1):
        for better in _boards(search, levels[higher], board if higher == number else None):
            layout = _finished(search, better)
            if layout is not None and layout.cost < best - 0.01:
                best = layout.cost
                yield layout
        if best < math.inf or search.out():
            return


def _held(task: Task) -> Task:
    """Lights on pinned strips keep their angle."""
    if not task.pinned:
        return task
    pins = shapely.union_all([pin.area for pin in task.pinned])
    lights = []
    for light in task.lights:
        pads = shapely.union_all([light.positive, light.negative])
        there = translate(rotate(pads, light.angle, origin=(0, 0)), *light.at)
        touched = pins.intersects(there)
        lights.append(dataclasses.replace(light, turn="locked") if touched else light)
    return dataclasses.replace(task, lights=tuple(lights))


class Level:
    """One set of distances with its empty board and the tours there."""

    def __init__(self, search: Search, room: Room) -> None:
        self.search = search
        self.board = Board(search.task, room)
        self.known: list[Tour] | None = None

    @property
    def tours(self) -> list[Tour]:
        if self.known is None:
            lands = Lands(self.board)
            count = 2 + 2 * max(1, self.search.task.choices.effort)
            found = orders(lands, count, self.search.random)
            self.known = [guided(lands, self.board, path, length) for length, path in found]
        return self.known


def _first(search: Search, levels: list[Level]) -> tuple[int, Board] | None:
    """A first sound board and its level: woven at any distances, else negotiated at the least."""
    for number, level in enumerate(levels):
        for tour in level.tours[:2]:
            for board in _woven_raw(search, level.board, tour):
                if _finished(search, board) is not None and not shown_too_much(board):
                    return number, board
    for number, tries in ((len(levels) - 1, 6), (0, 1)):
        for tour in levels[number].tours[:tries]:
            for board in _woven(search, levels[number].board, tour):
                if _finished(search, board) is not None:
                    return number, board
    return None


def _over_paper(search: Search, level: Level) -> Layout | None:
    """The layout with fewest crossings over paper, of these the cheapest; None without any."""
    best: Layout | None = None
    tours = 2 + 2 * max(1, search.task.choices.effort)
    for tour in level.tours[:tours]:
        for board in bridged(level.board, tour, search.prices.run):
            Polisher(board, search.prices, search.out).settle(4)
            kept = _kept_small(search, board)
            layout = None if kept is None else _finished(search, kept)
            if layout is not None and (best is None or _rank(layout) < _rank(best)):
                best = layout
            if best is not None and search.out():
                return best
    return best


def _rank(layout: Layout) -> tuple[int, float]:
    return len(layout.patches), layout.cost


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


def _boards(search: Search, level: Level, start: Board | None) -> Iterator[Board]:
    """Better and better boards at one level; none where no tour can be woven there."""
    effort = max(1, search.task.choices.effort)
    best: Board | None = None
    if start is not None:
        best = start.clone()
        alike = _alike(search, best)
        Polisher(best, search.prices, search.out).settle(2, turning=not alike, seating=False)
        yield best
    rough: list[tuple[float, int, Board]] = []
    tours, last = _shares(len(search.task.lights), effort)
    for number, tour in enumerate(level.tours[:tours]):
        if search.out():
            break
        for new in _woven(search, level.board, tour, number <= effort):
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
        return 3 + effort, 1 + (effort + 1) // 2
    return 2 + 2 * effort, 1 + effort


def _seated(search: Search, board: Board) -> Board | None:
    """A board polished to the end, lights seated anew; None should an opening show too much."""
    new = board.clone()
    Polisher(new, search.prices, search.out).settle(4, turning=not _alike(search, new))
    return None if shown_too_much(new) else new


def _alike(search: Search, board: Board) -> bool:
    """Whether all lights have one turn and are to keep it."""
    return search.task.choices.style == "rails" and len(set(board.angles)) == 1


def _woven(search: Search, board: Board, tour: Tour, ripping: bool = True) -> Iterator[Board]:
    """Layouts along one tour, each polished and within the openings' shares.

    `ripping`: where none can be woven, one is negotiated.
    """
    found = False
    rails = [] if search.task.sketches else list(_railed(search, board, tour))
    alike = search.task.choices.style == "rails" and rails and len(set(rails[0].angles)) == 1
    woven = [] if alike else [*_woven_raw(search, board, tour)]
    for new in (*woven, *rails):
        Polisher(new, search.prices, search.out).settle(2, turning=not alike, seating=False)
        shown = _kept_small(search, new)
        if shown is not None:
            found = True
            yield shown
    if found or not ripping:
        return
    last = len(board.nets) - 1
    for first in (last - 1, last):
        start = turned(board, tour.angles)
        ripped = rip_up(start, search.prices.run, RIPS, first, search.random)
        if ripped is not None:
            Polisher(ripped, search.prices, search.out).settle(4, seating=False)
            shown = _kept_small(search, ripped)
            if shown is not None:
                yield shown
                return


def _woven_raw(search: Search, board: Board, tour: Tour) -> Iterator[Board]:
    """Both sides along a tour as they are laid at first."""
    last = len(board.nets) - 1
    for first in (last - 1, last):
        new, missed = weave(board, tour, first, search.prices.run)
        if not missed:
            Polisher(new, search.prices, search.out).settle(0)
            yield new


def _railed(search: Search, board: Board, tour: Tour) -> Iterator[Board]:
    """Two rails along a tour: first with one turn for all lights where that is wanted."""
    tours = [tour]
    if search.task.choices.style == "rails":
        common = one_turn(search.task, tour)
        tours = [tour] if common is None else [common, tour]
    for one in tours:
        rails = along(board, one, search.prices.run)
        if rails is not None:
            yield rails
            return


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
        Polisher(board, search.prices, search.out).settle(2, seating=False)
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
            Polisher(new, search.prices, search.out).settle(4, turning=not _alike(search, new))
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


def _explained(task: Task, level: Level) -> tuple[NoRoom, ...]:
    """What kept tape from each pad that was cut off."""
    from .explain import explain

    fewest: list[Key] | None = None
    for tour in level.tours[:2]:
        for first in (len(level.board.nets) - 2, len(level.board.nets) - 1):
            missed = weave(level.board, tour, first, 1.0)[1]
            if fewest is None or len(missed) < len(fewest):
                fewest = missed
    return explain(task, level.board.room, fewest or [])
