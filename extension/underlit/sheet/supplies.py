"""What one card takes, and a batch of cards: lights, batteries, tape, sheets, foam.

Every length and count is that of the report. Rolls of 10 m: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from math import ceil, floor

import shapely
from shapely.geometry.base import BaseGeometry

from ..language import decimal, figure, say, say_count
from ..model.naming import light_type
from ..records import record
from .paper import Paper as Stock
from .scene import Piece, Scene, Tape

#: Tape on a roll (mm).
ROLL = 10_000.0

#: Share of a sheet that is used when pieces of several shapes are cut from it (proposed).
USED = 0.7


@record
class TapeUse:
    """All tape of one width. Lengths in mm; `cut` of each tape is in the order of `tapes`."""

    width: float
    tapes: tuple[Tape, ...]
    cuts: tuple[int, ...]
    per_card: int
    cards_per_roll: int
    rolls: int


@record
class Supply:
    """One line of the list. `item` is its name in price lists; `per_card` and `total` in `unit`."""

    item: str
    what: str
    unit: str
    per_card: float
    total: int
    price: float | None = None

    @property
    def cost(self) -> float | None:
        """What all of it costs, None where no price is known."""
        return None if self.price is None else self.price * self.total


@record
class Supplies:
    """Everything for `copies` cards."""

    copies: int
    tape: tuple[TapeUse, ...]
    shapes: tuple[Tape, ...]
    lines: tuple[Supply, ...]


def fold_extra(tape: Tape) -> float:
    """Tape that folds take beyond the centre line (mm): one width each.

    The tape runs to the far edge of the corner, is folded back on itself there, and is folded over
    again across the corner's diagonal: half a width there and half a width back. An end that is
    folded under covers its overlap, which is a width long.
    """
    return tape.all_folds * tape.width


def cut_length(tape: Tape) -> int:
    """Length to cut from the roll: drawn length and folds, rounded up to whole mm."""
    return ceil(round(tape.length + fold_extra(tape), 3))


def supplies_of(
    scene: Scene,
    stock: Stock,
    copies: int,
    prices: Mapping[str, float] | None = None,
    fronts: tuple[int, int] | None = None,
) -> Supplies:
    """Supplies for a number of cards; sheets are cut from paper of the size `stock`.

    `fronts`: colours, and fronts of each, where a plan asks for them; None: `copies` of one colour.
    """
    shapes = tuple(tape for tape in scene.tapes if not tape.roll)
    uses = _tape_uses([tape for tape in scene.tapes if tape.roll], copies)
    lines = [
        *_counted(scene, copies),
        *(
            Supply(f"tape {use.width:g}", _tape_words(use.width), say("roll of 10 m"),
                   use.per_card / ROLL, use.rolls)
            for use in uses
        ),
        *(
            Supply(f"tape sheet {t.label}", _sheet_words(t), say("piece"), 1, copies)
            for t in shapes
        ),
        *(
            _in_colours(s, scene, stock, *fronts) if s.item == "front" and fronts else s
            for s in _sheets(scene, stock, copies)
        ),
    ]  # fmt: skip
    known = prices or {}
    priced = tuple(
        Supply(s.item, s.what, s.unit, s.per_card, s.total, known.get(s.item)) for s in lines
    )
    return Supplies(copies, tuple(uses), shapes, priced)


def _tape_words(width: float) -> str:
    return say("Conductive tape, {width} mm wide", width=decimal(f"{width:g}"))


def _sheet_words(tape: Tape) -> str:
    wide, high = (f"{side:.0f}" for side in tape.box)
    return say(
        "Conductive sheet, {wide} x {high} mm ({tape})", wide=wide, high=high, tape=tape.label
    )


def _tape_uses(tapes: Sequence[Tape], copies: int) -> list[TapeUse]:
    widths: dict[float, list[Tape]] = {}
    for tape in tapes:
        widths.setdefault(round(tape.width, 2), []).append(tape)
    found = []
    for width, members in sorted(widths.items()):
        cuts = tuple(cut_length(tape) for tape in members)
        per_card = sum(cuts)
        per_roll = floor(ROLL / per_card) if per_card else 0
        rolls = ceil(copies / per_roll) if per_roll else ceil(copies * per_card / ROLL)
        found.append(TapeUse(width, tuple(members), cuts, per_card, per_roll, rolls))
    return found


def _counted(scene: Scene, copies: int) -> Iterable[Supply]:
    def pieces(item: str, what: str, count: int) -> Supply:
        return Supply(item, what, say("piece"), count, count * copies)

    for kind, count in _tally(scene.lights):
        yield pieces(f"light {kind}", say("Light, {kind}", kind=light_type(kind)), count)
    for kind, count in _tally(scene.cells):
        yield pieces(f"battery {kind}", say("Coin battery {cell}", cell=kind.upper()), count)
    held = sum(not cell.bare for cell in scene.cells)
    if held:
        yield pieces("battery holder", say("Battery holder"), held)
    switches = sum(one.kind == "switch" for one in scene.others)
    if switches:
        yield pieces("switch", say("Switch"), switches)
    ohms = [one.ohms for one in scene.others if one.kind == "resistor"]
    for value in dict.fromkeys(ohms):
        yield pieces(
            f"resistor {value}", say("Resistor, {ohms} ohm", ohms=value), ohms.count(value)
        )
    if scene.tabs:
        yield pieces("pull tab", say("Pull tab, a strip of paper"), len(scene.tabs))
    if scene.papers:
        sizes = ", ".join(box_words(p.geometry) for p in scene.papers)
        words = say("Paper tape over crossings and rims: {sizes}", sizes=sizes)
        yield pieces("paper tape", words, len(scene.papers))


def _tally(pieces: Iterable[Piece]) -> list[tuple[str, int]]:
    counts: dict[str, int] = {}
    for piece in pieces:
        counts[piece.type] = counts.get(piece.type, 0) + 1
    return list(counts.items())


def box_words(geometry: BaseGeometry) -> str:
    """Size of the upright box around something: 105 x 148 mm."""
    left, top, right, bottom = geometry.bounds
    return say("{wide} x {high} mm", wide=figure(right - left), high=figure(bottom - top))


def _sheets(scene: Scene, stock: Stock, copies: int) -> Iterable[Supply]:
    base = scene.base if scene.base_drawn or not scene.back else None
    named = (
        ("front", say("Front with its windows, card"), scene.front),
        ("base", say("Back sheet, card"), base),
        ("cover", say("Cover sheet with holes"), scene.covers),
        ("vellum", say("Vellum behind the windows"), scene.diffusers),
    )
    for item, what, geometry in named:
        if geometry is not None and not geometry.is_empty:
            yield _cut(item, what, geometry, 1, stock, copies)
    if not scene.foam.is_empty:
        for item, what, layers in _foams(scene):
            yield _cut(item, what, scene.foam, layers, stock, copies)


def _in_colours(front: Supply, scene: Scene, stock: Stock, colours: int, each: int) -> Supply:
    """The fronts of a colour plan: no sheet is shared by two colours."""
    one = _cut(front.item, "", scene.front, 1, stock, each)
    what = say("{front}, in {colours} colours", front=front.what, colours=colours)
    return replace(front, what=what, total=colours * one.total)


def _foams(scene: Scene) -> Iterable[tuple[str, str, int]]:
    """Each kind of foam: its name in price lists, in words, and how many layers of it."""
    pads = say_count("{number} pad", "{number} pads", scene.foam_pads)
    layers = scene.stack.layers if scene.stack else ()
    if not layers:
        yield "foam", say("Foam, {pads}", pads=pads), 1
    for thick in dict.fromkeys(layers):
        many = layers.count(thick)
        item = "foam" if len(set(layers)) == 1 else f"foam {thick:g}"
        high = decimal(f"{thick:g}")
        words = say("Foam {high} mm, {pads}", high=high, pads=pads)
        if many > 1:
            words = say("Foam {high} mm, {pads} in {layers} layers",
                        high=high, pads=pads, layers=many)  # fmt: skip
        yield item, words, many


def _cut(
    item: str, what: str, geometry: BaseGeometry, layers: int, stock: Stock, copies: int
) -> Supply:
    """Pieces of one material, each in a number of layers."""
    boxes = [part.bounds for part in shapely.get_parts(geometry)]
    sizes = [(b[2] - b[0], b[3] - b[1]) for b in boxes]
    if len(sizes) == 1:
        what = f"{what}, {box_words(geometry)}"
    return _cut_from(item, what, sizes * layers, stock, copies)


def _cut_from(
    item: str, what: str, sizes: Sequence[tuple[float, float]], stock: Stock, copies: int
) -> Supply:
    """Sheets of paper that pieces are cut from; large pieces are counted themselves."""
    if any(_fits(size, stock) == 0 for size in sizes):
        return Supply(item, what, say("piece"), len(sizes), len(sizes) * copies)
    unit = say("sheet {paper}", paper=stock.name)
    if len(sizes) == 1:
        each = _fits(sizes[0], stock)
        what = say("{what}: {number} from a sheet", what=what, number=each)
        return Supply(item, what, unit, 1.0 / each, ceil(copies / each))
    share = sum(w * h for w, h in sizes) / (USED * stock.width * stock.height)
    return Supply(item, what, unit, share, ceil(round(copies * share, 6)))


def _fits(size: tuple[float, float], stock: Stock) -> int:
    """How many boxes of a size a sheet gives, all lying one way."""
    wide, high = size
    if min(wide, high) <= 0.0:
        return 1
    return max(
        floor(stock.width / wide) * floor(stock.height / high),
        floor(stock.width / high) * floor(stock.height / wide),
    )


def figures(supplies: Supplies) -> dict[str, object]:
    """Supplies as the report carries them (mm, 0.001)."""
    priced = [line.cost for line in supplies.lines if line.cost is not None]
    return {
        "copies": supplies.copies,
        "tape": [
            {
                "width": round(use.width, 3),
                "strips": [_strip(t, c) for t, c in zip(use.tapes, use.cuts, strict=True)],
                "per_card": use.per_card,
                "cards_per_roll": use.cards_per_roll,
                "rolls": use.rolls,
            }
            for use in supplies.tape
        ],
        "shapes": [
            {"label": t.label, "strip": t.name, "length": round(t.length, 3),
             "box": [round(t.box[0], 3), round(t.box[1], 3)]}
            for t in supplies.shapes
        ],
        "items": [
            {"item": s.item, "what": s.what, "unit": s.unit, "per_card": round(s.per_card, 3),
             "total": s.total, "price": s.price,
             "cost": None if s.cost is None else round(s.cost, 2)}
            for s in supplies.lines
        ],
        "cost": round(sum(priced), 2) if priced else None,
    }  # fmt: skip


def _strip(tape: Tape, cut: int) -> dict[str, object]:
    return {
        "label": tape.label,
        "strip": tape.name,
        "length": round(tape.length, 3),
        "overlap": round(tape.overlap, 3),
        "folds": tape.folds,
        "folded_ends": tape.ends,
        "fold_extra": round(fold_extra(tape), 3),
        "cut": cut,
    }
