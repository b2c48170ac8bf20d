"""Lights under openings: where, which way round, and what cannot be lit. The way in."""

from __future__ import annotations

from .brightness import Illuminance, lambertian
from .choosing import choose, read_count, read_numbers, read_place, read_turn
from .counting import lights_fed
from .crowding import place_lights
from .outcome import Ground, Placed, Placement, Taken, Tapes, Unlit, Wish

__all__ = [
    "Ground",
    "Illuminance",
    "Placed",
    "Placement",
    "Taken",
    "Tapes",
    "Unlit",
    "Wish",
    "choose",
    "lambertian",
    "lights_fed",
    "place_lights",
    "read_count",
    "read_numbers",
    "read_place",
    "read_turn",
]
