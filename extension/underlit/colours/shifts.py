"""How far each place moves on along the colours, so that neighbours differ.

Choosing a shift for every place is colouring a graph: places are its vertices, neighbours its
edges, shifts its colours. Where shifts do not go round, as few neighbours as possible are alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, permutations, product

#: Steps of the search after which the best so far is taken (some tenths of a second), and places
#: up to which there is a search at all: beyond, the first way down is taken.
MOST_STEPS, MOST_SEARCHED = 60_000, 60

#: Neighbours alike, and all pairs of places alike: the fewer the better, in this order.
Cost = tuple[int, int]


def shifts_of(
    places: int, neighbours: Sequence[tuple[int, int]], ways: int, most_steps: int = MOST_STEPS
) -> tuple[int, ...]:
    """A shift 1..`ways` for each of a number of places, by branch and bound.

    The place with the most different shifts around it comes next (D. Brelaz, New methods to color
    the vertices of a graph, Communications of the ACM 22, 1979), and the shift that costs least is
    tried first. The result is best unless the search takes more than `most_steps`.
    """
    search = _Search(places, neighbours, ways)
    search.descend()
    if places <= MOST_SEARCHED:
        search.improve(most_steps)
    return search.found


def cost_of(shifts: Sequence[int], neighbours: Sequence[tuple[int, int]]) -> Cost:
    """What a choice of shifts costs."""
    alike = sum(shifts[a] == shifts[b] for a, b in neighbours)
    return (alike, sum(_pairs(list(shifts).count(shift)) for shift in set(shifts)))


def rounds_of(shifts: Sequence[int], ways: int) -> Iterator[tuple[int, ...]]:
    """Every choice of shifts once: `shifts` first, then those that part neighbours as well, then
    those that differ from `shifts` in one place, in two, and so on.

    `shifts` holds the numbers from 1 on without a gap, as `shifts_of` gives them.
    """
    seen = set()
    for names in permutations(range(1, ways + 1), max(shifts)):
        other = tuple(names[shift - 1] for shift in shifts)
        seen.add(other)
        yield other
    for changed in range(1, len(shifts) + 1):
        for places in combinations(range(len(shifts)), changed):
            for moves in product(range(1, ways), repeat=changed):
                other = _moved(shifts, places, moves, ways)
                if other not in seen:
                    yield other


def _moved(
    shifts: Sequence[int], places: Sequence[int], moves: Sequence[int], ways: int
) -> tuple[int, ...]:
    """Shifts with some places moved on, from the last back to the first."""
    moved = list(shifts)
    for place, move in zip(places, moves, strict=True):
        moved[place] = (moved[place] - 1 + move) % ways + 1
    return tuple(moved)


def _pairs(count: int) -> int:
    return count * (count - 1) // 2


class _Search:
    """Depth first, the best first; `found` is the best so far.

    Shifts are taken into use in their order, since their names do not matter yet.
    """

    def __init__(self, places: int, neighbours: Sequence[tuple[int, int]], ways: int) -> None:
        self._around: list[list[int]] = [[] for _ in range(places)]
        for a, b in neighbours:
            self._around[a].append(b)
            self._around[b].append(a)
        self._ways = ways
        self._chosen = [0] * places
        self._used = [0] * (ways + 1)
        self.found: tuple[int, ...] = ()
        self._cost: Cost = (0, 0)
        more, each = places % ways, places // ways
        self._floor: Cost = (0, more * _pairs(each + 1) + (ways - more) * _pairs(each))

    def descend(self) -> None:
        """The first way down: at each place what costs least."""
        cost: Cost = (0, 0)
        for _ in self._chosen:
            place = self._next()
            shift, cost = self._tries(place, cost)[0]
            self._take(place, shift)
        self.found, self._cost = tuple(self._chosen), cost
        self._chosen = [0] * len(self._chosen)
        self._used = [0] * len(self._used)

    def improve(self, steps: int) -> None:
        """All other ways, as far as they may be better and the steps last."""
        self._left = steps
        self._go(len(self._chosen), (0, 0))

    def _go(self, unset: int, cost: Cost) -> None:
        if not unset:
            self.found, self._cost = tuple(self._chosen), cost
            return
        place = self._next()
        for shift, dearer in self._tries(place, cost):
            if self._left <= 0 or self._cost <= self._floor:
                return
            if dearer >= self._cost:
                continue
            self._left -= 1
            self._take(place, shift)
            self._go(unset - 1, dearer)
            self._used[shift] -= 1
            self._chosen[place] = 0

    def _take(self, place: int, shift: int) -> None:
        self._chosen[place] = shift
        self._used[shift] += 1

    def _next(self) -> int:
        """The place that is hardest to please."""

        def hard(place: int) -> tuple[int, int, int]:
            around = self._around[place]
            seen = {self._chosen[one] for one in around} - {0}
            return (len(seen), len(around), -place)

        return max((p for p, shift in enumerate(self._chosen) if not shift), key=hard)

    def _tries(self, place: int, cost: Cost) -> list[tuple[int, Cost]]:
        """Shifts and what each leads to, cheapest first; of unused ones only the first."""
        last = next((s for s in range(1, self._ways + 1) if not self._used[s]), self._ways)
        around = [self._chosen[one] for one in self._around[place]]
        tries = [
            (shift, (cost[0] + around.count(shift), cost[1] + self._used[shift]))
            for shift in range(1, last + 1)
        ]
        return sorted(tries, key=lambda one: (one[1], one[0]))
