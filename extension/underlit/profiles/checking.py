"""Is what a maker wrote usable? Types, ranges, names, and what must fit together.

Only a maker's own layers pass here (the shipped files are held against the same table by the
tests). Errors name the file, the key, what must be and what came.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from ..errors import UnusableProfile
from ..language import and_more, say
from .ageing import check_cells, settle_tapes
from .expecting import COUNTS, expected
from .layers import Layer
from .refusing import cut, listed, near_miss, refuse, shown
from .schema import CELL_ORDERS, NAMED, ORDERS, SINGLE, Key

HEX_DIGITS = frozenset("0123456789abcdefABCDEF")


def check_layer(label: str, layer: Mapping[str, object], lower: Layer) -> dict[str, Any]:
    """The layer with every value checked, numbers as floats and lists as tuples.

    Raises UnusableProfile. `lower` is what it will lie over (for `based-on` of entries).
    """
    result: dict[str, Any] = {}
    for table, values in layer.items():
        if table == "based-on":
            continue
        if table not in SINGLE and table not in NAMED:
            hint = _table_hint(table)
            raise refuse(
                label, say("{word} is no table of a profile{hint}.", word=shown(table), hint=hint)
            )
        if not isinstance(values, Mapping):
            raise refuse(
                label,
                say(
                    "{table} must be a table, [{table}]; it is {value}.",
                    table=table,
                    value=shown(values),
                ),
            )
        if table in SINGLE:
            result[table] = _check_keys(label, table, values, SINGLE[table])
        else:
            result[table] = _check_entries(label, table, values, lower.get(table, {}))
    return result


def _table_hint(word: str) -> str:
    for table, keys in SINGLE.items():
        if word in keys:
            return say(" (it belongs under [{table}])", table=table)
    return near_miss(word, ("based-on", *SINGLE, *NAMED))


def _check_entries(
    label: str, table: str, entries: Mapping[str, object], lower: Layer
) -> dict[str, Any]:
    keys, known = NAMED[table], dict(lower)
    result: dict[str, Any] = {}
    for name, values in entries.items():
        where = f"{table}.{cut(name)}"
        if not isinstance(values, Mapping):
            raise refuse(label, _no_table(where, table, name in keys))
        own = dict(values)
        start = own.pop("based-on", None)
        result[name] = _check_keys(label, where, own, keys)
        if start is not None:
            if not isinstance(start, str) or start not in known:
                hint = near_miss(start, known) if isinstance(start, str) else ""
                raise refuse(
                    label,
                    say(
                        "{where}.based-on must name one of {table} that stands before it; "
                        "it is {value}{hint}.",
                        where=where,
                        table=table,
                        value=shown(start),
                        hint=hint,
                    ),
                )
            result[name]["based-on"] = start
        known[name] = values
    return result


def _no_table(where: str, table: str, is_key: bool) -> str:
    """`is_key`: what stands there is a key that belongs under a name."""
    if is_key:
        return say(
            "{where} must be a table, [{where}]; a key stands under a name, [{table}.NAME].",
            where=where,
            table=table,
        )
    return say("{where} must be a table, [{where}].", where=where)


def _check_keys(
    label: str, where: str, values: Mapping[str, object], keys: Mapping[str, Key]
) -> dict[str, Any]:
    result = {}
    for key, value in values.items():
        if key not in keys:
            hint = near_miss(key, keys) or say("; known are {keys}", keys=", ".join(keys))
            raise refuse(
                label,
                say(
                    "there is no key {key} under [{where}]{hint}.",
                    key=shown(key),
                    where=where,
                    hint=hint,
                ),
            )
        if not _fits(value, keys[key]):
            raise refuse(
                label,
                say(
                    "{key} must be {wanted}; it is {value}.",
                    key=f"{where}.{key}",
                    wanted=expected(keys[key]),
                    value=shown(value),
                ),
            )
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
                say(
                    "{key} = {value} must not be less than {other} = {limit}.",
                    key=f"{order.follow_table}.{order.follow}",
                    value=f"{follow:g}",
                    other=f"{order.table}.{order.lead}",
                    limit=f"{lead:g}",
                ),
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
                raise refuse(
                    label,
                    say(
                        "{entry} is new{hint} and still needs {keys}; or give it "
                        'based-on = "{other}".',
                        entry=f"{table}.{cut(name)}",
                        hint=near_miss(name, others),
                        keys=and_more(missing, 3),
                        other=cut(others[0]),
                    ),
                )


def _settle_cell(label: str, name: str, own: Layer, cell: Layer) -> dict[str, Any]:
    result = dict(cell)
    for largest, smallest in CELL_ORDERS:
        if result.get(smallest, 0.0) > result[largest] and smallest in own:
            raise refuse(
                label,
                say(
                    "{key} = {value} must not be more than {other} = {limit}.",
                    key=f"cells.{cut(name)}.{smallest}",
                    value=f"{result[smallest]:g}",
                    other=f"cells.{cut(name)}.{largest}",
                    limit=f"{result[largest]:g}",
                ),
            )
        result[smallest] = min(result.get(smallest, result[largest]), result[largest])
    if result["cap-radius"] >= result["diameter"] / 2.0:
        raise refuse(
            label,
            say(
                "{key} = {value} must be less than half of {other} = {limit}.",
                key=f"cells.{cut(name)}.cap-radius",
                value=f"{result['cap-radius']:g}",
                other=f"cells.{cut(name)}.diameter",
                limit=f"{result['diameter']:g}",
            ),
        )
    return result


def _check_names(label: str, layer: Layer, merged: Layer) -> None:
    """Names that point to another table."""
    use, tapes = merged["tape"]["use"], merged["tapes"]
    if use not in tapes:
        raise _unknown(label, "tape.use", use, tapes)
    _check_stack(label, layer, merged)
    cells = merged["cells"]
    for name in layer.get("holders", {}):
        holder = merged["holders"][name]
        if holder["cell"] not in cells:
            raise _unknown(label, f"holders.{cut(name)}.cell", holder["cell"], cells)


def _check_stack(label: str, layer: Layer, merged: Layer) -> None:
    """The sheets that a stack is made of, where a layer names them (then materials are in)."""
    for key, table in (("panel", "sheets"), ("diffuser", "diffusers"), ("post", "post")):
        word = layer.get("stack", {}).get(key)
        if word is not None and word not in merged[table]:
            raise _unknown(label, f"stack.{key}", word, merged[table])


def _unknown(label: str, key: str, word: str, known: Iterable[str]) -> UnusableProfile:
    """The refusal of a word that names none of those that are known."""
    return refuse(
        label,
        say(
            "{key} must be one of {words}; it is {value}{hint}.",
            key=key,
            words=listed(known),
            value=shown(word),
            hint=near_miss(word, known),
        ),
    )
