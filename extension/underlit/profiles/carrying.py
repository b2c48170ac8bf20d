"""A card's settings without any file of its maker: what another computer needs to judge alike."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from .layers import Layer
from .loading import material_tables, merge_layers, shipped_layer

if TYPE_CHECKING:
    from pathlib import Path


def self_contained(
    name_or_path: str | None,
    settings: Mapping[str, object] | None = None,
    folder: str | Path | None = None,
) -> tuple[str, dict[str, Any]]:
    """(shipped profile, settings to lay over it) that give the same profile anywhere.

    Arguments and errors as of `load_profile`; the settings have the shape of a profile file.
    """
    _, bottom, merged = merge_layers(name_or_path, settings, folder)
    return bottom, _difference({**material_tables(), **shipped_layer(bottom)}, merged)


def _difference(below: Layer, merged: Layer) -> dict[str, Any]:
    """What laid over `below` gives `merged`: single keys of flat tables, whole entries of others.

    A tape goes as a whole: the key `use` in it starts it afresh.
    """
    found = {}
    for table, values in merged.items():
        base = below.get(table, {})
        own = {key: v for key, v in values.items() if _plain(base.get(key)) != _plain(v)}
        if own:
            found[table] = _plain(values if table == "tape" else own)
    return found


def _plain(value: Any) -> Any:
    """The same with lists for all rows and dictionaries for all tables, as JSON knows them."""
    if isinstance(value, Mapping):
        return {key: _plain(inner) for key, inner in value.items()}
    return [_plain(inner) for inner in value] if isinstance(value, list | tuple) else value
