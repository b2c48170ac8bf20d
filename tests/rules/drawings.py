"""Validate a drawing in this process: SVG text in, what was found out."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Any

from lxml import etree

from rules.draw_faulty import MARGIN, Draft, clean, text_of
from underlit.model.drawing import Drawing
from underlit.profiles import load_profile
from underlit.workflows.validate import Validation, validate
from underlit_host.read_drawing import read_drawing

UNDERLIT = "{urn:underlit:card:1}"

Row = dict[str, Any]


def read(text: str) -> tuple[Drawing, Any]:
    """A drawing and the profile that it names."""
    root = etree.fromstring(text.encode("utf-8"))
    name = root.get(f"{UNDERLIT}profile") or "hand-laid"
    settings = json.loads(root.get(f"{UNDERLIT}settings") or "{}")
    return read_drawing(root, "card.svg"), load_profile(name, settings, None)


def validated(text: str) -> Validation:
    """Everything that validating gives."""
    return validate(*read(text))


def findings(text: str) -> list[Row]:
    """All findings of a drawing but the standing caution."""
    rows: Any = validated(text).report["findings"]
    return [row for row in rows if row["rule"] != "coin-cell"]


def changed(change: Callable[[Draft], object]) -> list[Row]:
    """Findings of the clean card with one change to it."""
    draft = clean()
    change(draft)
    return findings(text_of(draft))


def die_cut(*shapes: Callable[[Draft], str]) -> list[Row]:
    """Findings of the clean card with more on Die cut."""
    return changed(lambda d: d.layers["die-cut"].extend(shape(d) for shape in shapes))


def told(rows: Iterable[Row]) -> list[tuple[str, str, tuple[str, ...]]]:
    """(rule, severity, objects) of each finding."""
    return [(row["rule"], row["severity"], tuple(row["objects"])) for row in rows]


def at(row: Row) -> tuple[float, float]:
    """The place of a finding in mm of the card."""
    x, y = row["at"]
    return (x - MARGIN, y - MARGIN)


__all__ = ["at", "changed", "clean", "die_cut", "findings", "read", "told", "validated"]
