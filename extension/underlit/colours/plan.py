"""Which colour goes where: the most different cards from the pieces of several fronts.

Shifts are enough, and nothing does better:

- Number. Every card takes a front, so K fronts make at most K cards; a shift makes K.
- Pieces. Colour c of a front and shift s give colour c + s (mod K): for a fixed shift every colour
  once, so that each piece is used once. This is a Latin rectangle, rows of the cyclic square.
  (Euler, Recherches sur une nouvelle espece de quarres magiques, 1782; J. Denes and A. D. Keedwell,
  Latin Squares and Their Applications, 1974. Named from memory.)
- Neighbours. On one card the K - 1 colours other than that of its front colour the graph of
  neighbours, with m alike at least. With shifts every card has exactly the m of the best choice of
  shifts, so that no plan has fewer alike in all.
- Rounds. Another choice of shifts gives other cards; all choices give every card that there is,
  K (K - 1) ^ P for P places, each once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from ..records import record
from .shifts import cost_of, rounds_of, shifts_of


@record
class Made:
    """One card: number of its front's colour and of each piece's, in the order of places."""

    front: int
    pieces: tuple[int, ...]


@record
class Plan:
    """Cards of all rounds. `possible`: how many different ones there are at all.

    `alike`: pairs of neighbours of one colour on a card, over all cards.
    """

    rounds: int
    cards: tuple[Made, ...]
    possible: int
    alike: int


def plan_of(
    colours: int, places: int, neighbours: Sequence[tuple[int, int]], cards: int = 1
) -> Plan:
    """At least so many `cards`, all different, in whole rounds; fewer only where there are no more.

    Needs at least two colours and one place.
    """
    if colours < 2 or places < 1:
        raise ValueError("a plan needs two colours and one place")
    ways = colours - 1
    best = shifts_of(places, neighbours, ways)
    wanted = max(1, -(-cards // colours))
    chosen = list(islice(rounds_of(best, ways), wanted))
    made = tuple(
        Made(front, tuple((front + shift) % colours for shift in shifts))
        for shifts in chosen
        for front in range(colours)
    )
    alike = colours * sum(cost_of(shifts, neighbours)[0] for shifts in chosen)
    return Plan(len(chosen), made, colours * ways**places, alike)
