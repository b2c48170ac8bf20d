"""What months do to batteries and to contacts of tape: nothing gets better by ageing."""

from __future__ import annotations

from typing import Any

from ..language import say
from .layers import Layer, whole_tape
from .refusing import cut, refuse, shown
from .schema import CONTACTS


def check_cells(label: str, layer: Layer, merged: Layer) -> None:
    """A battery's inner resistance never falls: at the press, after a minute, aged."""
    for name in layer.get("cells", {}):
        cell = merged["cells"][name]
        for low, high in (("pulse-ohm", "sustained-ohm"), ("sustained-ohm", "aged-ohm")):
            if low in cell and high in cell and cell[high] < cell[low]:
                raise refuse(
                    label,
                    _too_low(f"cells.{cut(name)}.{high}", low, cell[low], cell[high]),
                )


def settle_tapes(label: str, layer: Layer, result: dict[str, Any]) -> None:
    """Aged contacts conduct no better than fresh ones: they follow, or are refused."""
    tapes = dict(result["tapes"])
    for name, own in layer.get("tapes", {}).items():
        raised = _aged_up(label, f"tapes.{cut(name)}", own, tapes[name])
        tapes[name] = {**tapes[name], **raised}
    result["tapes"] = tapes
    own = layer.get("tape", {})
    result["tape"] = {**result["tape"], **_aged_up(label, "tape", own, whole_tape(result))}


def _aged_up(label: str, where: str, own: Layer, tape: Layer) -> dict[str, float]:
    """The aged values of a tape that a fresh one pulls up with it. One alone stands as written."""
    raised = {}
    for fresh, aged in CONTACTS:
        if fresh not in own or tape.get(aged, tape[fresh]) >= tape[fresh]:
            continue
        if aged in own:
            raise refuse(
                label,
                _too_low(f"{where}.{aged}", fresh, tape[fresh], tape[aged]),
            )
        raised[aged] = tape[fresh]
    return raised


def _too_low(key: str, other: str, least: float, value: float) -> str:
    return say(
        "{key} must be at least {other}, {least}; it is {value}.",
        key=key,
        other=other,
        least=shown(least),
        value=shown(value),
    )
