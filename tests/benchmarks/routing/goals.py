"""What routing has to reach, judged from rows of `run.py` (one dict for each board).

A goal without boards among the rows is passed over.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Row = dict[str, Any]

#: Sets whose lights turn freely, nothing shown through openings.
FREE = {"basic", "dense", "maze", "ring", "line", "odd", "pockets", "large", "hundred", "small"}

#: Sets whose boards must all be solved.
ALWAYS = {"basic", "basic-45", "dense", "openings", "pockets", "ring", "line", "odd", "small"}

#: Boards of these sets may be lost now and then.
LOCKED = {"basic-locked", "strewn-locked"}

#: Seconds for a first and for the last layout, at most so many lights.
SECONDS = ((5, 0.5, 2.0), (12, 1.0, 4.0), (30, 2.0, 10.0), (100, 10.0, 30.0))

#: Both sides pass a corridor of 2 x 5 + 2 + 2 x 1 + 0.5 mm.
CORRIDOR = 14.5


@dataclass(frozen=True)
class Goal:
    """A limit on what `measure` makes of the rows that `of` picks."""

    words: str
    of: Callable[[Row], bool]
    measure: Callable[[list[Row]], float]
    limit: float
    at_least: bool = False

    def line(self, rows: list[Row]) -> tuple[bool, str] | None:
        """Whether it holds, and in words; None without boards."""
        picked = [row for row in rows if self.of(row)]
        if not picked:
            return None
        value = self.measure(picked)
        holds = value >= self.limit if self.at_least else value <= self.limit
        sign = ">=" if self.at_least else "<="
        words = f"{self.words}: {value:.3f} {sign} {self.limit:g} ({len(picked)} boards)"
        return holds, f"{'holds' if holds else 'DOES NOT HOLD'}  {words}"


def mean(key: str) -> Callable[[list[Row]], float]:
    return lambda rows: statistics.mean(row[key] for row in rows)


def worst(key: str) -> Callable[[list[Row]], float]:
    return lambda rows: max(row[key] for row in rows)


def solved(rows: list[Row]) -> float:
    """Percent of the boards."""
    return 100.0 * sum(row["solved"] for row in rows) / len(rows)


def free(row: Row) -> bool:
    return row["solved"] and row["set"] in FREE


def middling(row: Row) -> bool:
    return free(row) and 5 <= row["lights"] <= 20


def of_sets(names: set[str]) -> Callable[[Row], bool]:
    return lambda row: row["set"] in names


def with_faults(rows: list[Row]) -> float:
    return sum(bool(row["faults"]) for row in rows)


#: With aims set to the limits.
GOALS = [
    Goal("layouts that fail the verifier", lambda row: True, with_faults, 0),
    Goal("solved of boards with free turns or eighths, %", of_sets(ALWAYS), solved, 100, True),
    Goal("solved with locked angles, %", of_sets(LOCKED), solved, 98, True),
    Goal("solved of mazes, %", of_sets({"maze"}), solved, 98, True),
    Goal("seconds for a maze, worst", of_sets({"maze"}), worst("last"), 10),
    Goal("length over the reference, 5-20 lights, mean", middling, mean("ratio"), 1.08),
    Goal("straight runs per light, 5-20 lights, mean", middling, mean("runs"), 2.2),
    Goal(
        "length over the reference, 8 lights and more, worst",
        lambda row: free(row) and row["lights"] >= 8,
        worst("ratio"),
        1.20,
    ),
    Goal(
        "length over the reference, locked angles, mean",
        lambda row: row["solved"] and row["set"] in LOCKED,
        mean("ratio"),
        1.30,
    ),
    Goal(
        "length over the best by trying, 3 and 4 lights, worst",
        lambda row: "over_best" in row,
        worst("over_best"),
        1.015,
    ),
    Goal(
        "length over two trees made one at a time, opening boards, worst",
        lambda row: "over_trees" in row,
        worst("over_trees"),
        1.10,
    ),
    Goal(
        "corridors of 14.5 mm and wider passed, %",
        lambda row: row["set"] == "corridor" and row["width"] >= CORRIDOR,
        solved,
        100,
        True,
    ),
]

#: In the style that is offered first, at the distances of hand-laid tape.
AS_OFFERED = [
    Goal("layouts that fail the verifier", lambda row: True, with_faults, 0),
    Goal("solved, %", lambda row: True, solved, 100, True),
    Goal(
        "joints in series to the worst light, basic boards, mean",
        lambda row: row["solved"] and row["set"] == "basic",
        mean("joints"),
        2.0,
    ),
    Goal(
        "pieces per light, basic boards, mean",
        lambda row: row["solved"] and row["set"] == "basic",
        mean("pieces"),
        0.45,
    ),
]


def _timed() -> list[Goal]:
    """First and last layout in time, by the number of lights."""
    found, fewest = [], 1
    for most, first, last in SECONDS:

        def sized(row: Row, low: int = fewest, high: int = most) -> bool:
            return free(row) and row["set"] != "maze" and low <= row["lights"] <= high

        found.append(
            Goal(f"seconds to a first layout, {most} lights", sized, worst("first"), first)
        )
        found.append(Goal(f"seconds to the last layout, {most} lights", sized, worst("last"), last))
        fewest = most + 1
    return found


def judged(rows: list[Row], as_offered: bool) -> tuple[bool, list[str]]:
    """Whether all goals hold that have boards, and one line for each."""
    goals = [*(AS_OFFERED if as_offered else GOALS), *_timed()]
    lines = [line for goal in goals if (line := goal.line(rows)) is not None]
    return all(holds for holds, _ in lines), [words for _, words in lines]
