"""Price lists: the supplies as CSV with a column to fill in, and such a list read back."""

from __future__ import annotations

import csv
import io
from math import isfinite

from ..errors import UnreadablePrices
from ..language import say
from .supplies import Supplies

COLUMNS = ("item", "what", "unit", "per card", "total", "price", "cost")

_MONEY = "€$£¥ \u00a0"


def to_csv(supplies: Supplies) -> bytes:
    """The supplies with their prices as far as known (UTF-8 with a mark for spreadsheets)."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in supplies.lines:
        price = "" if line.price is None else f"{line.price:g}"
        cost = "" if line.cost is None else f"{line.cost:.2f}"
        writer.writerow(
            [line.item, line.what, line.unit, f"{line.per_card:.3f}".rstrip("0").rstrip("."),
             line.total, price, cost]
        )  # fmt: skip
    return ("\ufeff" + text.getvalue()).encode("utf-8")


def read_prices(data: bytes, name: str) -> dict[str, float]:
    """Item -> price of one unit. Raises UnreadablePrices with line and column.

    Columns are found by their headings `item` and `price`, in any order and among others; commas,
    semicolons or tabs between them. A price may have a decimal comma and a sign of money.
    """
    text = _decode(data, name)
    mark = _delimiter(text)
    rows = csv.reader(io.StringIO(text), delimiter=mark, strict=True)
    prices: dict[str, float] = {}
    seen: dict[str, int] = {}
    places: tuple[int, int] | None = None
    try:
        for row in rows:
            cells = [cell.strip() for cell in row]
            if not any(cells):
                continue
            if places is None:
                places = _headings(cells, name, rows.line_num)
                continue
            item, price = (cells[i] if i < len(cells) else "" for i in places)
            if not item or not price:
                continue
            where = _where(name, rows.line_num, places[1] + 1)
            value = _number(price, where)
            item = " ".join(item.lower().split())
            if item in seen and prices[item] != value:
                raise UnreadablePrices(
                    say("{where}: {item} has another price than on line {line}; keep one.",
                        where=where, item=item, line=seen[item])
                )  # fmt: skip
            prices[item], seen[item] = value, rows.line_num
    except csv.Error as fault:
        where = _where(name, rows.line_num, 1)
        raise UnreadablePrices(
            say("{where}: this line cannot be read ({fault}).", where=where, fault=fault)
        ) from None
    if places is None:
        where = _where(name, 1, 1)
        raise UnreadablePrices(say("{where}: the price list is empty.", where=where))
    return prices


def _where(name: str, line: int, column: int) -> str:
    return say("{file}, line {line}, column {column}", file=name, line=line, column=column)


def _headings(cells: list[str], name: str, line: int) -> tuple[int, int]:
    low = [cell.lower() for cell in cells]
    for heading in ("item", "price"):
        if heading not in low:
            raise UnreadablePrices(
                say(
                    "{where}: there is no column headed {heading}. Take the supplies file that "
                    "comes with the making sheet and fill in its prices.",
                    where=_where(name, line, 1),
                    heading=heading,
                )
            )
    return (low.index("item"), low.index("price"))


def _number(text: str, where: str) -> float:
    plain = text.strip(_MONEY)
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        value = -1.0
    if not isfinite(value) or value < 0.0:
        raise UnreadablePrices(
            say("{where}: a price is a number like 0.35, not {text}.", where=where, text=text)
        )
    return value


def _delimiter(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(",;\t", key=first.count)


def _decode(data: bytes, name: str) -> str:
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")  # older spreadsheets
    for number, line in enumerate(text.split("\n"), 1):
        for column, char in enumerate(line, 1):
            if char == "\ufffd" or (ord(char) < 32 and char not in "\t\r"):
                where = _where(name, number, column)
                raise UnreadablePrices(
                    say("{where}: this is no text. Save it as CSV.", where=where)
                )
    return text
