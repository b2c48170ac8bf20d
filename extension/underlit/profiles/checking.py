"""Is what a maker wrote usable? Types, ranges, names, and what must fit together.

Only a maker's own layers pass here (the shipped files are held against the same table by the
tests). Errors name the file, the key, what must be and what came.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from .ageing import check_cells, settle_tapes
from .layers import Layer
from .refusing import cut, listed, near_miss, refuse, shown
from .schema import CELL_ORDERS, NAMED, ORDERS, SINGLE, Key

HEX_DIGITS = frozenset("0123456789abcdefABCDEF")

COUNTS = {"pair": "two numbers", "numbers": "one or more numbers"}


def check_layer(label: str, layer: Mapping[str, object], lower: Layer) -> dict[str, Any]:
    """The layer with every value checked, numbers as floats and lists as tuples.

    Raises UnusableProfile. `lower` is what it will lie over (for `based-on` of entries).
    """
    result: dict[str, Any] = {}
    for table, values in layer.items():
        if table == "based-on":
            continue
        if table not in SINGLE and table not in NAMED:
            raise refuse(label, f"{shown(table)} is no table of a profile{_table_hint(table)}.")
        if not isinstance(values, Mapping):
            raise refuse(label, f"{table} must be a table, [{table}]; it is {shown(values)}.")
        if table in SINGLE:
            result[table] = _check_keys(label, table, values, SINGLE[table])
        else:
            result[table] = _check_entries(label, table, values, lower.get(table, {}))
    return result


def _table_hint(word: str) -> str:
    for table, keys in SINGLE.items():
        if word in keys:
            return f" (it belongs under [{table}])"
    return near_miss(word, ("based-on", *SINGLE, *NAMED))


def _check_entries(
    label: str, table: str, entries: Mapping[str, object], lower: Layer
) -> dict[str, Any]:
    keys, known = NAMED[table], dict(lower)
    result: dict[str, Any] = {}
    for name, values in entries.items():
        where = f"{table}.{cut(name)}"
        if not isinstance(values, Mapping):
            hint = f"; a key stands under a name, [{table}.NAME]" if name in keys else ""
            raise refuse(label, f"{where} must be a table, [{where}]{hint}.")
        own = dict(values)
        start = own.pop("based-on", None)
        result[name] = _check_keys(label, where, own, keys)
        if start is not None:
            if not isinstance(start, str) or start not in known:
                hint = near_miss(start, known) if isinstance(start, str) else ""
                raise refuse(
                    label,
                    f"{where}.based-on must name one of {table} that stands before it; "
                    f"it is {shown(start)}{hint}.",
                )
            result[name]["based-on"] = start
        known[name] = values
    return result


def _check_keys(
    label: str, where: str, values: Mapping[str, object], keys: Mapping[str, Key]
) -> dict[str, Any]:
    result = {}
    for key, value in values.items():
        if key not in keys:
            hint = near_miss(key, keys) or f"; known are {', '.join(keys)}"
            raise refuse(label, f"there is no key {shown(key)} under [{where}]{hint}.")
        if not _fits(value, keys[key]):
            wanted = expected(keys[key])
            raise refuse(label, f"{where}.{key} must be {wanted}; it is {shown(value)}.")
        result[key] = _clean(value, keys[key])
    return result


def _fits(value: object, key: Key) -> bool:
    if key.kind == "number":
        return _in_range(value, key)
    if key.kind in COUNTS:
        right = isinstance(value, list | tuple) and (
            len(value) == 2 if key.kind == "pair" else len(value) > 0
        )
        return right and all(_in_range(item, key) for item in value)  # type: ignore[attr-defined]
    if key.kind == "switch":
        return isinstance(value, bool)
    if not isinstance(value, str):
        return False
    if key.kind == "word":
        return value in key.words
    if key.kind == "colour":
        return len(value) == 7 and value[0] == "#" and set(value[1:]) <= HEX_DIGITS
    return 0 < len(value) <= 500


def _in_range(value: object, key: Key) -> bool:
    """False for NaN, infinity and booleans as well."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return key.low <= value <= key.high and not (key.open and value == key.low)


def _clean(value: Any, key: Key) -> Any:
    if key.kind == "number":
        return float(value)
    return tuple(float(item) for item in value) if key.kind in COUNTS else value


def expected(key: Key) -> str:
    """What a key takes, in words: "a number in mm, more than 0 and at most 50"."""
    if key.kind == "switch":
        return "true or false"
    if key.kind == "word":
        return "one of " + ", ".join(f'"{word}"' for word in key.words)
    if key.kind == "colour":
        return 'a colour like "#ffe2b0"'
    if key.kind == "text":
        return "a text in quotes"
    noun = COUNTS.get(key.kind, "a number")
    unit = f" in {key.unit}" if key.unit else ""
    bounds = f"more than {key.low:g} and at most" if key.open else f"from {key.low:g} to"
    if key.kind in COUNTS:
        return f"{noun}{unit} in square brackets, each {bounds} {key.high:g}"
    return f"{noun}{unit}, {bounds} {key.high:g}"


def settle(label: str, layer: Layer, merged: dict[str, Any]) -> dict[str, Any]:
    """`merged` (the layer already over the others) made consistent, or refused.

    Where the layer sets only the lead of a pair in `schema.ORDERS`, the other follows it.
    """
    _check_complete(label, layer, merged)
    result = dict(merged)
    for order in ORDERS:
        lead = result[order.table][order.lead]
        follow = result[order.follow_table][order.follow]
        if follow >= lead:
            continue
        if order.follow in layer.get(order.follow_table, {}):
            raise refuse(
                label,
                f"{order.follow_table}.{order.follow} = {follow:g} must not be less than "
                f"{order.table}.{order.lead} = {lead:g}.",
            )
        result[order.follow_table] = {**result[order.follow_table], order.follow: lead}
    result["cells"] = {
        name: _settle_cell(label, name, layer.get("cells", {}).get(name, {}), cell)
        for name, cell in result["cells"].items()
    }
    _check_names(label, layer, result)
    check_cells(label, layer, result)
    settle_tapes(label, layer, result)
    return result


def _check_complete(label: str, layer: Layer, merged: Layer) -> None:
    """Every entry that the layer touches has all its keys."""
    for table in (name for name in layer if name in NAMED):
        for name in layer[table]:
            entry = merged[table][name]
            missing = [k for k, key in NAMED[table].items() if k not in entry and not key.optional]
            if missing:
                others = [other for other in merged[table] if other != name]
                more = f" and {len(missing) - 3} more" if len(missing) > 3 else ""
                raise refuse(
                    label,
                    f"{table}.{cut(name)} is new{near_miss(name, others)} and still needs "
                    f'{", ".join(missing[:3])}{more}; or give it based-on = "{cut(others[0])}".',
                )


def _settle_cell(label: str, name: str, own: Layer, cell: Layer) -> dict[str, Any]:
    result = dict(cell)
    for largest, smallest in CELL_ORDERS:
        if result.get(smallest, 0.0) > result[largest] and smallest in own:
            raise refuse(
                label,
                f"cells.{cut(name)}.{smallest} = {result[smallest]:g} must not be more than "
                f"cells.{cut(name)}.{largest} = {result[largest]:g}.",
            )
        result[smallest] = min(result.get(smallest, result[largest]), result[largest])
    if result["cap-radius"] >= result["diameter"] / 2.0:
        raise refuse(
            label,
            f"cells.{cut(name)}.cap-radius = {result['cap-radius']:g} must be less than half of "
            f"cells.{cut(name)}.diameter = {result['diameter']:g}.",
        )
    return result


def _check_names(label: str, layer: Layer, merged: Layer) -> None:
    """Names that point to another table."""
    use, tapes = merged["tape"]["use"], merged["tapes"]
    if use not in tapes:
        raise refuse(
            label,
            f"tape.use must be one of {listed(tapes)}; it is {shown(use)}" + _dot(use, tapes),
        )
    _check_stack(label, layer, merged)
    cells = merged["cells"]
    for name in layer.get("holders", {}):
        holder = merged["holders"][name]
        if holder["cell"] not in cells:
            raise refuse(
                label,
                f"holders.{cut(name)}.cell must be one of {listed(cells)}; "
                f"it is {shown(holder['cell'])}" + _dot(holder["cell"], cells),
            )


def _check_stack(label: str, layer: Layer, merged: Layer) -> None:
    """The sheets that a stack is made of, where a layer names them (then materials are in)."""
    for key, table in (("panel", "sheets"), ("diffuser", "diffusers"), ("post", "post")):
        word = layer.get("stack", {}).get(key)
        if word is not None and word not in merged[table]:
            raise refuse(
                label,
                f"stack.{key} must be one of {listed(merged[table])}; it is {shown(word)}"
                + _dot(word, merged[table]),
            )


def _dot(word: str, known: Iterable[str]) -> str:
    return near_miss(word, known) + "."
