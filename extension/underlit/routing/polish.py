"""Small changes that keep a layout legal and make it cheaper: an always valid layout."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

import numpy as np

from .board import Board, Key, Tree, ring_segments
from .cover import share
from .fermat import middle, steiner_point
from .price import Prices, cost_of, net_cost
from .reseat import reseat, resettle
from .segments import clear
from .strips import is_straight

At = tuple[float, float]

#: Changes of cost below this are none (mm).
LEAST = 1e-3

#: No link is made shorter than this (mm).
SHORT = 0.5

#: Parts of a wished-for step that are tried.
STEPS = (1.0, 0.5, 0.2)


class Polisher:
    """Local search on one board; `out_of_time` is asked between moves."""

    def __init__(self, board: Board, prices: Prices, out_of_time: Callable[[], bool]) -> None:
        self.board, self.prices, self.out = board, prices, out_of_time
        self.pad_at: list[dict[int, Key]] = [
            {node: key for key, node in tree.pad_node.items()} if tree else {}
            for tree in board.trees
        ]

        self.first_share = {
            key: pad_share(board, key, tree, tree.at[node])
            for tree in board.trees
            if tree
            for key, node in tree.pad_node.items()
        }
        self.calm: set[tuple[object, ...]] = set()
        #: the board's version and what each net costs in it
        self.known: dict[int, tuple[int, float]] = {}

    def _tried(self, move: str, net: int, *nodes: int) -> bool:
        """Whether a move was tried in vain with these nodes and their neighbours as they are."""
        tree = self.tree(net)
        around = tuple((n, tree.at[n], *(tree.at[m] for m in tree.links[n])) for n in nodes)
        mark = (move, net, around)
        if mark in self.calm:
            return True
        self.calm.add(mark)
        return False

    def tree(self, net: int) -> Tree:
        tree = self.board.trees[net]
        assert tree is not None
        return tree

    def settle(self, rounds: int, turning: bool = True, seating: bool = True) -> None:
        """All kinds of moves until none helps, or the rounds are over; `seating`: dear ones too."""
        for net in range(len(self.board.nets)):
            self.reach_pads(net)
        for _ in range(rounds):
            before = cost_of(self.board, self.prices)
            for net in range(len(self.board.nets)):
                self.contract(net)
                self.slide(net)
                self.branch(net)
                self.slide(net)
                self.swing(net)
                self.mitre(net)
                if seating:
                    self.resettle(net)
                self.contract(net)
                if self.out():
                    return
            if turning:
                self.turn_lights()
            if turning and seating:
                self.reseat_lights()
            if self.out() or cost_of(self.board, self.prices) > before - 0.05:
                return

    # -- one node ---------------------------------------------------------------------------

    def slide(self, net: int) -> None:
        """Move nodes to where their links are shorter or straighter."""
        tree = self.tree(net)
        for node in sorted(tree.at):
            if node in tree.fixed:
                continue
            if node in tree.at and not self._tried("slide", net, node):
                for wish in self._wishes(net, node):
                    here = tree.at[node]
                    for step in STEPS:
                        at = (
                            here[0] + step * (wish[0] - here[0]),
                            here[1] + step * (wish[1] - here[1]),
                        )
                        if self._move(net, node, at):
                            break

    def _wishes(self, net: int, node: int) -> list[At]:
        tree = self.tree(net)
        around = [tree.at[n] for n in sorted(tree.links[node])]
        if not around:
            return []
        wishes = [middle(around, tree.at[node])]
        for i, a in enumerate(around):
            wishes += [_foot(tree.at[node], a, b) for b in around[i + 1 :]]
        key = self.pad_at[net].get(node)
        if key is not None:
            centre = self.board.centre(key)
            wishes = [_within(w, centre, 3.2) for w in wishes] + [centre]
        return wishes

    def _move(self, net: int, node: int, at: At) -> bool:
        tree = self.tree(net)
        old = tree.at[node]
        if math.dist(old, at) < 1e-4:
            return False
        near = sorted(tree.links[node])
        if any(math.dist(at, tree.at[n]) < SHORT for n in near):
            return False
        before = self._local(tree, [node, *near], node)
        tree.at[node] = at
        if self._local(tree, [node, *near], node) < before - LEAST:
            rows = np.array([(*at, *tree.at[n]) for n in near])
            if self.covered(net, [node, *near]) and self.board.legal(net, rows):
                self.board.changed(net)
                return True
        tree.at[node] = old
        return False

    def _local(self, tree: Tree, nodes: Iterable[int], centre: int) -> float:
        """Length of the links at a node, less what straight ways save in runs."""
        length = sum(math.dist(tree.at[centre], tree.at[n]) for n in tree.links[centre])
        if len(self.board.windows.areas):
            rows = np.array([(*tree.at[centre], *tree.at[n]) for n in tree.links[centre]])
            length += float(self.board.windows.price(rows).sum())
        return length - self.prices.run * sum(straights(tree, n) for n in nodes)

    def covered(self, net: int, nodes: Iterable[int]) -> bool:
        """Whether the pads at these nodes are covered as wished, or no less than at first."""
        tree = self.tree(net)
        for node in nodes:
            key = self.pad_at[net].get(node)
            if key is not None and node not in tree.fixed:
                part = pad_share(self.board, key, tree, tree.at[node])
                if part < self.needed(key, len(tree.links[node])) - 1e-4:
                    return False
        return True

    def needed(self, key: Key, links: int) -> float:
        """Share of a pad to cover: an end need only reach its middle, it is drawn out later."""
        room, first = self.board.room, self.first_share[key]
        wished = room.least_cover if links < 2 else room.cover
        return min(wished, room.square / self.board.pad_area(key), max(first, room.least_cover))

    def reach_pads(self, net: int) -> None:
        """Move ends that barely reach their pad further onto it."""
        tree, needed = self.tree(net), self.board.room.least_cover
        for key, node in tree.pad_node.items():
            if node in tree.fixed:
                continue
            least = min(needed, self.board.room.square / self.board.pad_area(key))
            if pad_share(self.board, key, tree, tree.at[node]) >= least - 1e-4:
                continue
            near = sorted(tree.links[node])
            for at in _around(self.board.centre(key), [tree.at[n] for n in near]):
                rows = np.array([(*at, *tree.at[n]) for n in near])
                if pad_share(self.board, key, tree, at) >= least and self.board.legal(net, rows):
                    tree.at[node] = at
                    self.board.changed(net)
                    break

    # -- topology ---------------------------------------------------------------------------

    def contract(self, net: int) -> None:
        """Take free nodes out: bends pulled straight, junctions moved onto a neighbour."""
        tree = self.tree(net)
        for node in sorted(tree.at):
            if node not in tree.at or node in self.pad_at[net] or node in tree.fixed:
                continue
            if len(tree.links[node]) < 2:
                tree.drop(node)
                self.board.changed(net)
                continue
            if self._tried("contract", net, node):
                continue
            for goal in sorted(tree.links[node]):
                if self._merge(net, node, goal):
                    break

    def mitre(self, net: int) -> None:
        """Two bends close to each other become one where their outer runs would meet."""
        for u, v in sorted(self.tree(net).edges()):
            tree = self.tree(net)
            if v not in tree.links.get(u, ()) or {u, v} & (self.pad_at[net].keys() | tree.fixed):
                continue
            if len(tree.links[u]) != 2 or len(tree.links[v]) != 2:
                continue
            (a,) = tree.links[u] - {v}
            (b,) = tree.links[v] - {u}
            at = _meeting(tree.at[a], tree.at[u], tree.at[v], tree.at[b])
            if at is None or a == b or self._tried("mitre", net, u, v):
                continue
            rows = np.array([(*at, *tree.at[a]), (*at, *tree.at[b])])
            self._try(net, _mitred(tree, (a, u, v, b), at), rows, [a, b])

    def _merge(self, net: int, node: int, goal: int) -> bool:
        """Hang all links of a node on its neighbour, where legal and cheaper."""
        tree = self.tree(net)
        others = [n for n in sorted(tree.links[node]) if n != goal]
        rows = np.array([(*tree.at[goal], *tree.at[n]) for n in others])
        if len(others) > 1 and sum(math.dist(r[:2], r[2:]) for r in rows) > (
            sum(math.dist(tree.at[node], tree.at[n]) for n in tree.links[node])
            + 3 * self.prices.run
        ):
            return False

        def change() -> None:
            tree.drop(node)
            for n in others:
                tree.link(goal, n)

        return self._try(net, change, rows, [goal, *others])

    def _try(
        self,
        net: int,
        change: Callable[[], None],
        rows: np.ndarray,
        nodes: list[int],
        ends: Iterable[int] = (),
    ) -> bool:
        """Make a change if its new links are legal, pads stay covered and the cost falls."""
        board = self.board
        if (np.hypot(rows[:, 0] - rows[:, 2], rows[:, 1] - rows[:, 3]) < SHORT).any():
            return False
        if not board.legal(net, rows):
            return False
        tree = self.tree(net)
        kept = tree.copy()
        before = self._spent(net)
        change()
        after = net_cost(board, net, self.prices)
        if after < before - LEAST and self.covered(
            net, [n for n in [*nodes, *ends] if n in tree.at]
        ):
            board.changed(net)
            self.known[net] = (board.version, after)
            return True
        tree.restore(kept)
        return False

    def _spent(self, net: int) -> float:
        """What a net costs now."""
        known = self.known.get(net)
        if known is None or known[0] != self.board.version:
            known = (self.board.version, net_cost(self.board, net, self.prices))
            self.known[net] = known
        return known[1]

    def branch(self, net: int) -> None:
        """Put a junction where two links leave a node at a sharp angle."""
        tree = self.tree(net)
        for node in sorted(tree.at):
            if node not in tree.at or len(tree.links[node]) < 2:
                continue
            if self._tried("branch", net, node):
                continue
            best: tuple[float, int, int, At] | None = None
            near = [n for n in sorted(tree.links[node]) if not tree.is_pinned(node, n)]
            for i, a in enumerate(near):
                for b in near[i + 1 :]:
                    p, q, r = tree.at[node], tree.at[a], tree.at[b]
                    s = steiner_point(p, q, r)
                    if s is None:
                        continue
                    gain = math.dist(p, q) + math.dist(p, r)
                    gain -= math.dist(s, p) + math.dist(s, q) + math.dist(s, r)
                    if gain > 0.05 and (best is None or gain > best[0]):
                        best = (gain, a, b, s)
            if best is not None:
                self._split(net, node, best[1], best[2], best[3])
            tree = self.tree(net)

    def _split(self, net: int, node: int, a: int, b: int, at: At) -> None:
        tree = self.tree(net)
        rows = np.array([(*at, *tree.at[n]) for n in (node, a, b)])

        def change() -> None:
            tree = self.tree(net)
            new = tree.add(at)
            for n in (a, b):
                tree.unlink(node, n)
                tree.link(new, n)
            tree.link(new, node)

        self._try(net, change, rows, [node, a, b])

    def swing(self, net: int) -> None:
        """Take a link out and join the halves where they are nearer, straight."""
        for a, b in sorted(self.tree(net).edges()):
            tree = self.tree(net)
            if b not in tree.links.get(a, ()) or tree.is_pinned(a, b):
                continue
            if self._tried("swing", net, a, b):
                continue
            if self.out():
                return
            done = self._swing(net, a, b) or self._swing(net, b, a)
            del done

    def _swing(self, net: int, a: int, b: int) -> bool:
        """Join the half with `a` to the other half by one straight link from `a`."""
        tree = self.tree(net)
        far = math.dist(tree.at[a], tree.at[b])
        budget = far + self.prices.joint + self.prices.piece + 2 * self.prices.run
        tree.unlink(a, b)
        half = _part(tree, b)
        tree.link(a, b)
        edges = [e for e in tree.edges() if e[0] in half and e[1] in half and e not in tree.pinned]
        places: list[tuple[float, tuple[int, ...], At]] = [
            (math.dist(tree.at[a], tree.at[n]), (n,), tree.at[n]) for n in sorted(half) if n != b
        ]
        for e in edges:
            foot = _foot(tree.at[a], tree.at[e[0]], tree.at[e[1]])
            if min(math.dist(foot, tree.at[n]) for n in e) > 0.5:
                places.append((math.dist(tree.at[a], foot), e, foot))
        places.sort(key=lambda p: (p[0], p[1]))
        for length, where, at in places[:4]:
            if length > budget:
                return False
            if self._may_pay(net, a, b, where, length) and self._rejoin(net, a, b, where, at):
                return True
        return False

    def _may_pay(self, net: int, a: int, b: int, where: tuple[int, ...], length: float) -> bool:
        """Whether a swing can pay at all: its length and pieces, two runs and a joint saved."""
        if len(self.board.windows.areas):
            return True
        tree, end, before = self.tree(net), b, a
        more = length - math.dist(tree.at[a], tree.at[b])
        while len(tree.links[end]) == 2 and end not in self.pad_at[net] and end not in where:
            (ahead,) = tree.links[end] - {before}
            more -= math.dist(tree.at[end], tree.at[ahead])
            before, end = end, ahead
        goal = len(tree.links[where[0]]) if len(where) == 1 else 2
        # two ways at a node make one piece: pieces are half the nodes with an odd number of ways
        odd = 0 if where == (end,) else (1 - 2 * (goal % 2)) + (1 - 2 * (len(tree.links[end]) % 2))
        prices = self.prices
        return more + prices.piece * odd / 2.0 < 2.0 * prices.run + prices.joint

    def _rejoin(self, net: int, a: int, b: int, where: tuple[int, ...], at: At) -> bool:
        tree = self.tree(net)
        rows = np.array([(*tree.at[a], *at)])

        def change() -> None:
            tree = self.tree(net)
            tree.unlink(a, b)
            if len(where) == 2:
                goal = tree.add(at)
                tree.unlink(*where)
                for n in where:
                    tree.link(goal, n)
            else:
                goal = where[0]
            tree.link(a, goal)
            node = b
            while len(tree.links[node]) == 1 and node not in self.pad_at[net] and node != a:
                (up,) = tree.links[node]
                tree.drop(node)
                node = up
            ends.append(node)

        ends: list[int] = []
        return self._try(net, change, rows, [a, *where], ends)

    # -- lights -----------------------------------------------------------------------------

    def turn_lights(self) -> None:
        """Turn each light a little either way where that makes the tape cheaper."""
        for i, light in enumerate(self.board.task.lights):
            if light.turn == "locked":
                continue
            steps = (45.0,) if light.turn == "45" else (24.0, 9.0, 3.0)
            for step in steps:
                for sign in (1.0, -1.0):
                    while self._turn(i, sign * step) and not self.out():
                        pass
            if self.out():
                return

    def resettle(self, net: int) -> None:
        """Move bends and junctions to where fewer runs do."""
        tree = self.tree(net)
        for node in sorted(tree.at):
            if node in tree.at and node not in self.pad_at[net] and node not in tree.fixed:
                resettle(self, net, node)

    def reseat_lights(self) -> None:
        """Turn lights and land their tape anew so that bends beside them go away."""
        for i in range(len(self.board.task.lights)):
            if self.out():
                return
            reseat(self, i)

    def _turn(self, i: int, by: float) -> bool:
        board = self.board
        keys: list[Key] = [("light", i, "positive"), ("light", i, "negative")]
        old = board.angles[i]
        trees = [self.tree(board.net_of[k]) for k in keys]
        nodes = [t.pad_node[k] for t, k in zip(trees, keys, strict=True)]
        places = [t.at[n] for t, n in zip(trees, nodes, strict=True)]
        if any(n in t.fixed for t, n in zip(trees, nodes, strict=True)):
            return False
        before = sum(self._star(t, n) for t, n in zip(trees, nodes, strict=True))
        board.angles[i] = (old + by) % 360.0
        c, s = math.cos(math.radians(by)), math.sin(math.radians(by))
        x, y = board.task.lights[i].at
        for t, n, (px, py) in zip(trees, nodes, places, strict=True):
            dx, dy = px - x, py - y
            t.at[n] = (x + c * dx - s * dy, y + s * dx + c * dy)
        after = sum(self._star(t, n) for t, n in zip(trees, nodes, strict=True))
        if after < before - 0.02:
            board.changed()
            if self._turn_legal(keys, trees, nodes):
                return True
        board.angles[i] = old
        for t, n, p in zip(trees, nodes, places, strict=True):
            t.at[n] = p
        board.changed()
        return False

    def _star(self, tree: Tree, node: int) -> float:
        return self._local(tree, [node, *tree.links[node]], node)

    def _turn_legal(self, keys: list[Key], trees: list[Tree], nodes: list[int]) -> bool:
        board = self.board
        for key, tree, node in zip(keys, trees, nodes, strict=True):
            net = board.net_of[key]
            rows = np.array([(*tree.at[node], *tree.at[n]) for n in sorted(tree.links[node])])
            if len(rows) and not board.legal(net, rows):
                return False
            apart = board.room.half + board.pad_gap(key)
            sides = ring_segments(board.corners(key))
            for n, other in enumerate(board.trees):
                if n != net and other is not None:
                    segments = other.segments()
                    if not clear(sides, segments, np.full(len(segments), apart)):
                        return False
            if not self.covered(net, [node, *tree.links[node]]):
                return False
        return True


def straights(tree: Tree, node: int) -> int:
    """How many pairs of links go straight through a node."""
    left = sorted(tree.links[node])
    count = 0
    while len(left) > 1:
        a = left.pop()
        for b in left:
            if is_straight(tree, a, node, b):
                left.remove(b)
                count += 1
                break
    return count


def _meeting(a: At, u: At, v: At, b: At) -> At | None:
    """Where the runs a-u and b-v meet beyond u and v, if they do within reach."""
    ux, uy, vx, vy = u[0] - a[0], u[1] - a[1], v[0] - b[0], v[1] - b[1]
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-9:
        return None
    s = ((b[0] - a[0]) * vy - (b[1] - a[1]) * vx) / cross
    t = ((b[0] - a[0]) * uy - (b[1] - a[1]) * ux) / cross
    if s < 1.0 or t < 1.0:
        return None
    at = (a[0] + s * ux, a[1] + s * uy)
    return at if math.dist(at, u) + math.dist(at, v) < 40.0 else None


def _mitred(tree: Tree, chain: tuple[int, int, int, int], at: At) -> Callable[[], None]:
    def change() -> None:
        a, u, v, b = chain
        tree.drop(u)
        tree.drop(v)
        new = tree.add(at)
        tree.link(new, a)
        tree.link(new, b)

    return change


def _part(tree: Tree, start: int) -> set[int]:
    seen, todo = {start}, [start]
    while todo:
        for other in tree.links[todo.pop()]:
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen


def _foot(p: At, a: At, b: At) -> At:
    """The place on the link a-b nearest to p."""
    wx, wy = b[0] - a[0], b[1] - a[1]
    size = wx * wx + wy * wy
    if size < 1e-12:
        return a
    t = min(max(((p[0] - a[0]) * wx + (p[1] - a[1]) * wy) / size, 0.0), 1.0)
    return (a[0] + t * wx, a[1] + t * wy)


def _around(centre: At, links: list[At]) -> list[At]:
    """Places round a pad's middle, those that lengthen its links first in line."""
    places = [centre]
    for far in (0.3, 0.7, 1.2):
        for x, y in links:
            size = math.dist((x, y), centre) or 1.0
            places.append(
                (centre[0] - far * (x - centre[0]) / size, centre[1] - far * (y - centre[1]) / size)
            )
        places += [
            (
                centre[0] + far * math.cos(k * math.pi / 4),
                centre[1] + far * math.sin(k * math.pi / 4),
            )
            for k in range(8)
        ]
    return places


def _within(p: At, centre: At, radius: float) -> At:
    far = math.dist(p, centre)
    if far <= radius:
        return p
    return (
        centre[0] + (p[0] - centre[0]) * radius / far,
        centre[1] + (p[1] - centre[1]) * radius / far,
    )


def pad_share(board: Board, key: Key, tree: Tree, at: At) -> float:
    """Share of a pad covered by the links at its node, were the node at `at`."""
    around = [tree.at[n] for n in sorted(tree.links[tree.pad_node[key]])]
    if not around:
        return 0.0
    folded = board.task.choices.corners == "fold"
    return share(board.pad(key), at, around, board.task.limits.width / 2.0, folded)
