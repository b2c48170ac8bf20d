"""What a maker's hands, tape, lights and batteries are like: limits and values, all editable."""

from __future__ import annotations

from .loading import load_profile, shipped_names
from .profile import CellType, GlowRule, LightType, Limits, PatchRule, Profile, Stack, Tape

__all__ = [
    "CellType",
    "GlowRule",
    "LightType",
    "Limits",
    "PatchRule",
    "Profile",
    "Stack",
    "Tape",
    "load_profile",
    "shipped_names",
]
