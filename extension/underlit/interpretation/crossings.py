"""outline-crosses-itself of the features of parts."""

from __future__ import annotations

from collections.abc import Iterable

from ..model.drawing import Shape
from ..model.finding import Finding
from .contours import closed_outlines


def feature_crossings(shapes: Iterable[Shape]) -> tuple[Finding, ...]:
    """One finding per outline of a feature that crosses itself."""
    return tuple(closed_outlines([shape for shape in shapes if shape.feature])[1])
