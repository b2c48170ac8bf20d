"""Lay the tape of both polarities."""

from __future__ import annotations

from .layout import Cure, Figures, Layout, NoRoom, Patch, Place, Reason, Refusal, Strip
from .solve import layouts, route
from .task import (
    Cell,
    Choices,
    Clock,
    FoldLine,
    Light,
    Limits,
    Obstacle,
    OwnOpening,
    Pinned,
    Task,
    TwoPad,
)

__all__ = [
    "Cell",
    "Choices",
    "Clock",
    "Cure",
    "Figures",
    "FoldLine",
    "Layout",
    "Light",
    "Limits",
    "NoRoom",
    "Obstacle",
    "OwnOpening",
    "Patch",
    "Pinned",
    "Place",
    "Reason",
    "Refusal",
    "Strip",
    "Task",
    "TwoPad",
    "layouts",
    "route",
]
