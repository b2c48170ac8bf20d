"""Read frozen boards: plain numbers in JSON, parts of one kind."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from shapely.affinity import rotate
from shapely.geometry import LineString, Point, Polygon, box

from routing.boards import BARE, BODY, MINUS, PLUS
from underlit.routing import Cell, Choices, Light, Limits, Obstacle, OwnOpening, Pinned, Task

FOLDER = Path(__file__).parent / "cards"

Card = dict[str, Any]


def cards_of(name: str) -> list[Card]:
    """All cards of a set."""
    cards: list[Card] = json.loads((FOLDER / f"{name}.json").read_text("utf-8"))
    return cards


def set_names() -> list[str]:
    return sorted(p.stem for p in FOLDER.glob("*.json"))


def cell_of(x: float, y: float, angle: float) -> Cell:
    """A holder: feet 6 x 6 at 14 mm, body of radius 8."""
    feet = [
        rotate(box(x + s * 14 - 3, y - 3, x + s * 14 + 3, y + 3), angle, origin=(x, y))
        for s in (1, -1)
    ]
    return Cell("B1", feet[0], feet[1], Point(x, y).buffer(8.0))


def task_of(card: Card, choices: Choices | None = None, limits: Limits | None = None) -> Task:
    """The board of a card; aims are set to the limits unless others are given."""
    lights = tuple(
        Light(f"L{i + 1}", (x, y), PLUS, MINUS, BODY, angle, card.get("turn", "free"))
        for i, (x, y, angle) in enumerate(card["lights"])
    )
    pinned = [
        Pinned(
            f"P{i + 1}",
            LineString(points).buffer(2.5, cap_style="flat"),
            5.0,
            LineString(points),
            sign,
        )
        for i, (sign, points) in enumerate(card.get("pinned", []))
    ]
    return Task(
        Polygon(card["base"][0], card["base"][1:]),
        lights,
        (cell_of(*card["cell"]),),
        tuple(Obstacle(f"K{i + 1}", Polygon(k), 1.0) for i, k in enumerate(card["keep"])),
        tuple(
            OwnOpening(f"O{i + 1}", Polygon(o), 0.5) for i, o in enumerate(card.get("openings", []))
        ),
        pinned=tuple(pinned),
        limits=limits or BARE,
        choices=choices or Choices(),
    )


def planted_layout(card: Card) -> SimpleNamespace:
    """The planted layout as the verifier reads one."""
    strips = [
        SimpleNamespace(points=tuple(tuple(p) for p in points), width=5.0, polarity=sign)
        for sign, points in card["planted"]
    ]
    strips.sort(key=lambda s: s.polarity == "negative")
    angles = {f"L{i + 1}": a for i, (_, _, a) in enumerate(card["planted_lights"])}
    return SimpleNamespace(strips=tuple(strips), angles=angles)
