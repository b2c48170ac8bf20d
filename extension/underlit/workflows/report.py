"""The report: one JSON object per run, keys in the order of the drawing conventions."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from .. import __version__
from ..connectivity.gaps import smallest_gap
from ..model.card import Card, Opening, Part
from ..model.case import Case
from ..model.circuit import Circuit, Net
from ..model.finding import Finding
from ..model.operation import CellFlow, LightFlow
from .ladders import joints_to_worst_light
from .part_areas import angle_of

SCHEMA = 1


def build_report(
    action: str,
    drawing: str,
    case: Case,
    findings: Sequence[Finding],
    accepted: Sequence[Finding],
    verdict: str | None,
) -> dict[str, object]:
    """Report of one action; lengths in mm rounded to 0.001."""
    return {
        "underlit": __version__,
        "schema": SCHEMA,
        "action": action,
        "drawing": drawing,
        "profile": case.profile.name,
        "verdict": verdict,
        "findings": [_finding(finding) for finding in findings],
        "accepted": [_finding(finding) for finding in accepted],
        "card": _card(case.card),
        "nets": [_net(case.circuit, net) for net in _sorted(case.circuit.drawn)],
        "lights": [
            _light(case, light, opening)
            for light, opening in zip(case.card.lights, _openings_of(case.card), strict=True)
        ],
        "cells": [_cell(case, cell) for cell in case.card.cells],
        "tape": _tape(case),
    }


def rounded(value: float) -> float:
    """A length as reports carry it: 0.001 mm, no minus zero."""
    return round(float(value), 3) + 0.0


def _place(at: tuple[float, float]) -> list[float]:
    return [rounded(at[0]), rounded(at[1])]


def _finding(finding: Finding) -> dict[str, object]:
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "at": None if finding.at is None else _place(finding.at),
        "objects": list(finding.objects),
        "message": finding.message,
        "remedy": finding.remedy,
    }


def _card(card: Card) -> dict[str, object]:
    outline = [panel.outline for panel in card.panels] or [card.base]
    left, top, right, bottom = shapely.total_bounds(outline)
    size = [0.0, 0.0] if np.isnan(left) else [rounded(right - left), rounded(bottom - top)]
    return {"panel": size, "openings": [_opening(opening) for opening in card.openings]}


def _opening(opening: Opening) -> dict[str, object]:
    return {
        "number": opening.number,
        "name": opening.name,
        "at": _place(opening.at),
        "area": rounded(opening.clear.area),
    }


_NET_ORDER = ("positive", "negative", "both", "none")


def _sorted(nets: Sequence[Net]) -> list[Net]:
    return sorted(nets, key=lambda net: (_NET_ORDER.index(net.polarity), net.conductors))


def _net(circuit: Circuit, net: Net) -> dict[str, object]:
    members = [circuit.conductors[i] for i in net.conductors]
    strips = [c.strip for c in members if c.strip is not None]
    area = shapely.union_all([strip.geometry for strip in strips]).area if strips else 0.0
    return {
        "polarity": net.polarity,
        "strips": [strip.name for strip in strips],
        "pads": [[c.part.id, c.pad] for c in members if c.part is not None],
        "length": rounded(sum(strip.length for strip in strips)),
        "area": rounded(area),
    }


def _light(case: Case, light: Part, opening: str | None) -> dict[str, object]:
    flow = None if case.drawn_operation is None else case.drawn_operation.lights.get(light.id)
    return {
        "id": light.id,
        "at": _place(light.at),
        "angle": rounded(angle_of(light)) % 360.0,
        "opening": opening,
        "lit": light.id in case.lit,
        **_currents(flow),
        "relative_brightness": None if flow is None else rounded(flow.brightness),
    }


def _currents(flow: LightFlow | CellFlow | None) -> dict[str, float | None]:
    """mA to 0.0001, of what could be computed."""
    amps = (None, None, None) if flow is None else flow.amps
    keys = ("current_ma", "current_minute_ma", "current_aged_ma")
    return {
        key: None if a is None else round(1e3 * a, 4) + 0.0
        for key, a in zip(keys, amps, strict=True)
    }


def _openings_of(card: Card) -> list[str | None]:
    """The opening over each light's lens (the smallest where several are), None without."""
    if not card.lights:
        return []
    points = shapely.points([light.at for light in card.lights])
    tree = shapely.STRtree([opening.outline for opening in card.openings])
    names: list[str | None] = [None] * len(points)
    best = [np.inf] * len(points)
    for i, k in tree.query(points, predicate="intersects").T.tolist():
        area = float(card.openings[k].outline.area)
        if area < best[i]:
            names[i], best[i] = card.openings[k].name, area
    return names


def _cell(case: Case, cell: Part) -> dict[str, object]:
    flow = None if case.drawn_operation is None else case.drawn_operation.cells.get(cell.id)
    band = None if flow is None else flow.hours
    return {
        "id": cell.id,
        "type": cell.type,
        **_currents(flow),
        "hours": None if band is None else [round(hours, 1) for hours in band],
    }


def _tape(case: Case) -> dict[str, object]:
    circuit, strips = case.circuit, case.card.strips
    joints = [i for i in circuit.live if circuit.conductors[circuit.contacts[i].upper].strip]
    gap = smallest_gap(circuit, case.card, case.signs)
    return {
        "strips": len(strips),
        "length": rounded(sum(strip.length for strip in strips)),
        "folds": sum(strip.folds for strip in strips),
        "joints": len({_pair(circuit, i) for i in joints}),
        "joints_to_worst_light": joints_to_worst_light(case),
        "smallest_gap": None if gap is None else rounded(gap),
    }


def _pair(circuit: Circuit, i: int) -> tuple[int, int]:
    return (circuit.contacts[i].upper, circuit.contacts[i].lower)
