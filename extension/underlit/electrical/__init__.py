"""From a card's wiring to currents: will every light be bright, and for how long.

Glossary
    squares     length over width of a strip; ohms = squares x ohms per square
    chain       a strip that follows a line: squares add up along it
    sheet       a strip of any other shape: solved by finite elements
    state       pressed (everything fresh), after a minute, aged
    supply      answers for one card what flows, as it is or as it could be
    way         the way of least resistance from the cell to a foot of a light

    overlaps                          long overlaps as rows of short ones
    chains, sheet (squares, layered)  shapes -> squares
    wiring                            circuit -> tape, contacts, pads as a network
    networks                          the network with resistances, lights, cells, per state
    operating (elimination, parts)    the network -> currents
    life                              currents -> hours and presses
    supply                            all of it, in the terms of the report

All figures are estimates: tape, joints and cells are soft data in editable profiles.
"""

from __future__ import annotations

from .supply import can_compute, supply_of

__all__ = ["can_compute", "supply_of"]
