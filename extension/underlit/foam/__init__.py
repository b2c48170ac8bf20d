"""Foam between back sheet and panel: where it may lie, pads or a frame that hold the panel up."""

from .ground import Ground, ground_of
from .layout import Layout, lay_out
from .pressing import Press, press_of

__all__ = ["Ground", "Layout", "Press", "ground_of", "lay_out", "press_of"]
