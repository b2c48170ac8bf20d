"""From overlapping shapes to nets.

Glossary
    conductor   a strip of tape, or one metal foot (pad) of a part
    contact     one connected place where two conductors meet with no patch between
    joint       a contact between two strips
    net         conductors joined by contacts and closed switches; resistors and lights
                connect nets without merging them
    evidence    what says that something is meant to be plus or minus: cell pads, light
                pads, `underlit:polarity`
    short       the contacts that join plus to minus, found as the cheapest cut between
                the evidence of both signs
    floating    a net with no way to any cell even through parts, or hanging on one light

One tolerance, `units.TOLERANCE`: what is nearer touches. It is the error of drawing
programs that round, not of hands.
"""

from __future__ import annotations

from .circuit import read_circuit
from .gaps import clearance

__all__ = ["clearance", "read_circuit"]
