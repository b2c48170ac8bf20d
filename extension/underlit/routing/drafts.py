"""Layouts along tours: woven, as rails, negotiated, or with crossings over paper."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from .assemble import assembled, shown_too_much
from .board import Board
from .bridging import bridged
from .layout import Layout
from .levels import Level, Search
from .polish import Polisher
from .price import cost_of
from .rails import along, one_turn
from .ripup import rip_up
from .tour import Tour
from .weave import relay, turned, weave

#: Rounds of laying one side through the other.
RIPS = 14


def first_board(search: Search, levels: list[Level]) -> tuple[int, Board] | None:
    """A first sound board and its level: woven at any distances, else negotiated at the least."""
    for number, level in enumerate(levels):
        for tour in level.tours[:2]:
            for board in raw(search, level.board, tour):
                if finished(search, board) is not None and not shown_too_much(board):
                    return number, board
    tried = ((len(levels) - 1, 6), (0, 1))
    for number, tries in tried if len(levels) > 1 else tried[:1]:
        for tour in levels[number].tours[:tries]:
            for board in woven(search, levels[number].board, tour):
                if finished(search, board) is not None:
                    return number, board
    return None


def over_paper(search: Search, level: Level) -> Layout | None:
    """The layout with fewest crossings over paper, of these the cheapest; None without any."""
    best: Layout | None = None
    tours = 2 + 2 * max(1, search.task.choices.effort)
    for tour in level.tours[:tours]:
        for board in bridged(level.board, tour, search.prices.run):
            Polisher(board, search.prices, search.out).settle(4)
            kept = _kept_small(search, board)
            layout = None if kept is None else finished(search, kept)
            if layout is not None and (best is None or _rank(layout) < _rank(best)):
                best = layout
            if best is not None and search.out():
                return best
    return best


def _rank(layout: Layout) -> tuple[int, float]:
    return len(layout.patches), layout.cost


def alike(search: Search, board: Board) -> bool:
    """Whether all lights have one turn and are to keep it."""
    return search.task.choices.style == "rails" and len(set(board.angles)) == 1


def woven(search: Search, board: Board, tour: Tour, ripping: bool = True) -> Iterator[Board]:
    """Layouts along one tour, each polished and within the openings' shares, none a second time.

    `ripping`: where none can be woven, one is negotiated.
    """
    found = False
    rails = [] if search.task.sketches else list(_railed(search, board, tour))
    one_way = any(alike(search, rail) for rail in rails)
    drafts = [] if one_way else [*raw(search, board, tour)]
    for new in (*drafts, *rails):
        mark = _mark(new)
        if mark in search.tried:
            found = found or search.tried[mark]
            continue
        Polisher(new, search.prices, search.out).settle(2, turning=not one_way, seating=False)
        shown = _kept_small(search, new)
        search.tried[mark] = shown is not None
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


def _mark(board: Board) -> tuple[object, ...]:
    """What tells a rough layout from others: distances, turns, and where its tape lies."""
    places = [tree.segments().round(4).tobytes() for tree in board.trees if tree is not None]
    return (board.room, *board.angles, *places)


def raw(search: Search, board: Board, tour: Tour) -> Iterator[Board]:
    """Both sides along a tour as they are laid at first; what was laid before is remembered."""
    last = len(board.nets) - 1
    for first in (last - 1, last):
        key = (board.room, tour, first)
        if key not in search.woven:
            new, missed = weave(board, tour, first, search.prices.run)
            if not missed:
                Polisher(new, search.prices, search.out).settle(0)
            search.woven[key] = None if missed else new
        known = search.woven[key]
        if known is not None:
            yield known.clone()


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


def finished(search: Search, board: Board) -> Layout | None:
    layout = assembled(board, search.prices)
    if layout is None:
        return None
    return dataclasses.replace(layout, ended=search.out.late())
