"""Underlit's own knowledge of light-up cards: pure geometry and electricity, no SVG, no host.

Lengths are millimetres on the first page (origin top left, y down), angles degrees
clockwise on screen, unless a name carries another unit.
"""

__version__ = "0.1.0"
