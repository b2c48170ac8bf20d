"""Draw sample_svgs/faulty: one lantern card, and one fault of every rule on it.

    python tests/rules/draw_faulty.py

Beside each drawing stands what validating it must find, thought out by hand: places are where
the fault was drawn, not what the tool said.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
FOLDER = ROOT / "sample_svgs" / "faulty"
MARGIN = 10.0

if __name__ == "__main__":
    sys.path.insert(0, str(ROOT / "tests"))

from samples.parts import bare_cell, holder, light, light_shapes  # noqa: E402
from samples.pen import CUT, FOAM, FOLD, INK, PAPER, PATCH, Point, Sheet, group  # noqa: E402
from samples.shapes import arch, line, placed  # noqa: E402

PLUS = ((15.0, 40.0), (88.0, 40.0), (88.0, 112.5))
MINUS = ((15.0, 48.0), (58.0, 48.0), (58.0, 112.5))
RAIL, LEAD = MINUS[:2], MINUS[1:]
SPOTS = ((24.0, 44.0), (37.0, 44.0), (50.0, 44.0))
BATTERY = (73.0, 110.0)
THIN = f"fill:none;stroke:{INK};stroke-width:{{line}}"
INKS = {"positive": "#003f66", "negative": "#e69f00"}

Expected = dict[str, object]


@dataclass
class Draft:
    """A card on its way: the objects of every layer, and what validating it must find."""

    sheet: Sheet
    layers: dict[str, list[str]]
    labels: dict[str, str] = field(default_factory=dict)
    expected: list[Expected] = field(default_factory=list)

    def finds(self, rule: str, severity: str, at: Point | None, *objects: str) -> None:
        """Note a finding to be expected; the place in mm of the card."""
        place = None if at is None else [round(at[0] + MARGIN, 3), round(at[1] + MARGIN, 3)]
        entry = {"rule": rule, "severity": severity, "at": place, "objects": list(objects)}
        self.expected.append(entry)


# ---- the clean card ------------------------------------------------------------------------------


def strip(
    s: Sheet,
    name: str,
    points: Sequence[Point],
    sign: str | None = None,
    width: float = 5.0,
    **more: str,
) -> str:
    """A strip of tape, the label of its side on it."""
    colour = INKS.get(sign or "", "#777777")
    style = f"fill:none;stroke:{colour};stroke-width:{width:g};stroke-linejoin:miter"
    if sign:
        more["underlit__polarity"] = sign
    return s.path(line(points), style, id=name, **more)


def plus(s: Sheet, points: Sequence[Point] = PLUS) -> str:
    return strip(s, "plus", points, "positive")


def minus(s: Sheet, points: Sequence[Point] = MINUS) -> str:
    return strip(s, "minus", points, "negative")


def pane(s: Sheet, number: int) -> str:
    return s.path(placed(arch(9, 14), *SPOTS[number - 1]), CUT, id=f"pane-{number}")


def lamp(s: Sheet, number: int, at: Point, angle: float = -90.0) -> str:
    return light(s, f"light-{number}", s.move(*at, angle))


def shining(s: Sheet, name: str, at: Point, angle: float) -> str:
    """A light that shines through the paper."""
    attributes = {"id": name, "underlit:part": "light", "underlit:type": "warm-white"}
    attributes |= {"underlit:shows": "through", "transform": s.move(*at, angle)}
    return group(attributes, light_shapes(s))


def clean(settings: dict[str, object] | None = None, card: Point = (105.0, 148.0)) -> Draft:
    """Three panes of a lantern, a light behind each, a battery to press below."""
    s = Sheet("Harbour Lane: lantern panes", "", card, settings, MARGIN)
    picture = [
        s.path("M 17 54 L 57 54 L 53 60 L 21 60 Z M 17 35 C 22 24 52 24 57 35 Z", THIN),
        s.path("M 37 26 L 37 18 M 34 15 A 3 3 0 1 1 34 15.1", THIN),
    ]
    layers = {
        "base": [s.rect((1, 1, 103, 146), PAPER, id="back-sheet")],
        "tape": [plus(s), minus(s)],
        "power": [holder(s, s.move(*BATTERY), closes="press")],
        "lights": [lamp(s, i, at) for i, at in enumerate(SPOTS, 1)],
        "foam": [],
        "picture": picture,
        "die-cut": [s.rect((0, 0, 105, 148), CUT, id="panel"), *(pane(s, i) for i in (1, 2, 3))],
        "folds": [],
    }
    return Draft(s, layers, {"picture": "Picture"})


def flap_card() -> Draft:
    """The same, with a bare battery that a flap across the foot of the card closes."""
    d = clean()
    s = d.sheet
    d.layers["tape"] = [
        plus(s, ((15, 40), (95, 40), (95, 136), (70, 136))),
        minus(s, ((15, 48), (58, 48), (58, 72), (73, 72), (73, 103))),
        s.rect((68.5, 86, 9, 7), PATCH, id="rim-paper", underlit__part="patch"),
    ]
    d.layers["power"] = [bare_cell(s, (73, 100), ((73, 136), (73, 100)), closes="flap", up="plus")]
    d.layers["folds"] = [
        s.path(
            "M 1 118 L 104 118", FOLD, id="flap", underlit__folds="battery", underlit__moves="once"
        )
    ]
    return d


# ---- stops ---------------------------------------------------------------------------------------


def layer_missing() -> Draft:
    d = clean()
    d.layers["tapes"] = d.layers.pop("tape")
    d.labels["tapes"] = "Tapes"
    d.finds("layer-missing", "stop", None)
    return d


def outline_crosses_itself() -> Draft:
    """A five-pointed star drawn in one go: nobody can tell whether its middle is cut out."""
    d = clean()
    star = "M 80 14 L 84.7 28.5 L 72.4 19.5 L 87.6 19.5 L 75.3 28.5 Z"
    d.layers["die-cut"].append(d.sheet.path(star, CUT + ";fill-rule:nonzero", id="star"))
    d.finds("outline-crosses-itself", "stop", (78.2, 19.5), "star")
    return d


def part_incomplete() -> Draft:
    d = clean()
    attributes = {"id": "half-light", "underlit:part": "light", "underlit:type": "warm-white"}
    shapes = [text for text in light_shapes(d.sheet) if "positive-pad" not in text]
    half = group({**attributes, "transform": d.sheet.move(30, 90)}, shapes)
    d.layers["lights"].append(half)
    d.finds("part-incomplete", "stop", (30, 90), "half-light")
    return d


def parts_overlap() -> Draft:
    d = clean()
    d.layers["lights"].append(shining(d.sheet, "light-4", (54, 44), -90))
    d.finds("parts-overlap", "stop", (52, 44), "light-3", "light-4")
    return d


def power_missing() -> Draft:
    d = clean()
    d.layers["power"] = []
    d.finds("power-missing", "stop", None)
    return d


def polarities_touch() -> Draft:
    """A plus strip that should end at y 45 was drawn on over the minus rail."""
    d = clean()
    d.layers["tape"].append(strip(d.sheet, "stray", ((70, 40), (70, 58), (52, 58)), "positive"))
    d.finds("polarities-touch", "stop", (58, 58), "stray", "minus")
    d.finds("strip-spare", "note", (70, 50), "stray")
    return d


def light_reversed() -> Draft:
    d = clean()
    d.layers["lights"][1] = lamp(d.sheet, 2, SPOTS[1], 90.0)
    d.finds("light-reversed", "stop", SPOTS[1], "light-2")
    return d


def light_unfed() -> Draft:
    d = clean()
    d.layers["tape"][1] = minus(d.sheet, ((27, 48), *MINUS[1:]))
    d.finds("light-unfed", "stop", (24, 48), "light-1")
    return d


def light_shorted() -> Draft:
    d = clean()
    d.layers["lights"].append(shining(d.sheet, "light-4", (88, 70), 90.0))
    d.finds("light-shorted", "stop", (88, 70), "light-4")
    return d


def pad_barely_covered() -> Draft:
    d = clean()
    d.layers["tape"][1] = minus(d.sheet, ((24.9, 48), *MINUS[1:]))
    d.finds("pad-barely-covered", "stop", (24, 48), "light-1")
    return d


def joint_too_small() -> Draft:
    d = clean()
    d.layers["tape"][1:] = [
        strip(d.sheet, "upper", ((15, 48), (58, 48), (58, 80)), "negative"),
        strip(d.sheet, "lower", ((58, 79), (58, 112.5)), "negative"),
    ]
    d.finds("joint-too-small", "stop", (58, 79.5), "lower", "upper")
    return d


def joint_not_conducting() -> Draft:
    """Plain foil: the rail is laid in two pieces whose overlap cuts light 1 off."""
    d = clean({"tape": {"use": "foil-5-plain"}})
    d.layers["tape"][1:] = [
        strip(d.sheet, "far", ((15, 48), (33, 48)), "negative"),
        strip(d.sheet, "near", ((28, 48), *MINUS[1:]), "negative"),
    ]
    d.finds("light-unfed", "stop", (24, 48), "light-1")
    d.finds("joint-not-conducting", "stop", (30.5, 48), "near", "far")
    return d


def cell_rim_touch() -> Draft:
    """A bare battery, plus side up; no paper between its rim and the minus tape below."""
    d = clean()
    s = d.sheet
    d.layers["power"] = [
        bare_cell(s, BATTERY, ((78.5, 110), (67.5, 110)), closes="press", up="plus")
    ]
    d.layers["tape"] = [
        minus(s, ((15, 48), (58, 48), (58, 110), (68, 110))),
        plus(s, ((15, 40), (88, 40), (88, 110), (78, 110))),
    ]
    d.finds("cell-rim-touch", "stop", (63.5, 110), "minus", "battery")
    return d


def _gap(x: float) -> Draft:
    """The plus lead swerves to x and comes near to the minus lead, whose edge is at 60.5."""
    d = clean()
    way = ((15, 40), (88, 40), (88, 58), (x, 58), (x, 78), (88, 78), (88, 112.5))
    d.layers["tape"][0] = plus(d.sheet, way)
    return d


def gap_too_small() -> Draft:
    d = _gap(64.5)
    d.finds("gap-too-small", "caution", (61.25, 68), "plus", "minus")
    return d


def gap_too_small_stop() -> Draft:
    d = _gap(63.7)
    d.finds("gap-too-small", "stop", (60.85, 68), "plus", "minus")
    return d


def off_base() -> Draft:
    d = clean()
    d.layers["tape"][1] = minus(d.sheet, ((15, 48), (58, 48), (58, 152)))
    d.finds("off-base", "stop", (58, 149.5), "minus")
    return d


def folded_touch() -> Draft:
    """Folded about y 118 the plus strip at y 136 lands on y 100, where minus tape lies.

    Under a flap the foam is thin (4 mm), so that every pane has its bright spot.
    """
    d = flap_card()
    s = d.sheet
    d.layers["tape"] = [
        plus(s, ((15, 40), (95, 40), (95, 136), (50, 136))),
        minus(s, ((15, 48), (58, 48), (58, 100), (76, 100))),
        s.rect((60.5, 95, 5, 10), PATCH, id="rim-paper", underlit__part="patch"),
    ]
    d.finds("folded-touch", "stop", (58, 100), "plus", "minus")
    return d


# ---- cautions ------------------------------------------------------------------------------------


def edge_too_near() -> Draft:
    d = clean()
    d.layers["tape"][1] = minus(d.sheet, ((15, 48), (58, 48), (58, 145.5)))
    d.finds("edge-too-near", "caution", (58, 146.25), "minus")
    return d


def tape_shows() -> Draft:
    d = clean()
    d.layers["die-cut"].append(d.sheet.circle(58, 80, 3, CUT, id="moon"))
    d.finds("tape-shows", "caution", (58, 80), "moon")
    return d


def base_shows() -> Draft:
    d = clean()
    d.layers["base"] = [d.sheet.rect((-2, 1, 106, 146), PAPER, id="back-sheet")]
    d.finds("base-shows", "caution", (-1, 74), "back-sheet")
    return d


def strip_narrow() -> Draft:
    """The lower half of the minus lead is cut from sheet, with a waist of 2.1 mm."""
    d = clean()
    s = d.sheet
    cut = [
        (55.5, 45.5),
        (60.5, 45.5),
        (60.5, 78),
        (59.05, 80),
        (59.05, 84),
        (60.5, 86),
        (60.5, 112.5),
    ]
    cut += [(55.5, 112.5), (55.5, 86), (56.95, 84), (56.95, 80), (55.5, 78)]
    d.layers["tape"][1:] = [
        strip(s, "rail", ((15, 48), (60.5, 48)), "negative"),
        s.path(line(cut, close=True), f"fill:{INKS['negative']};stroke:none", id="lead",
               underlit__polarity="negative"),
    ]  # fmt: skip
    d.finds("strip-narrow", "caution", (58, 82), "lead")
    return d


def tape_on_fold() -> Draft:
    """Foil across the spine of a card that opens and closes."""
    d = clean({"tape": {"use": "foil-5"}})
    d.layers["folds"] = [d.sheet.path("M 1 80 L 104 80", FOLD, id="spine")]
    d.finds("tape-on-fold", "caution", (58, 80), "minus", "spine")
    d.finds("tape-on-fold", "caution", (88, 80), "plus", "spine")
    return d


def light_off_opening() -> Draft:
    d = clean()
    del d.layers["die-cut"][2]
    d.finds("light-off-opening", "caution", SPOTS[1], "light-2")
    return d


def light_blocked() -> Draft:
    d = clean()
    d.layers["foam"] = [d.sheet.rect((35, 42, 4, 20), FOAM, id="foam-1")]
    d.finds("light-blocked", "caution", SPOTS[1], "light-2", "foam-1")
    return d


def foam_on_part() -> Draft:
    d = clean()
    d.layers["foam"] = [d.sheet.rect((68, 105, 10, 10), FOAM, id="foam-1")]
    d.finds("foam-on-part", "caution", BATTERY, "battery", "foam-1")
    return d


def part_resized() -> Draft:
    d = clean()
    s = d.sheet
    d.layers["lights"][1] = light(s, "light-2", s.move(*SPOTS[1], -90.0) + " scale(1.1)")
    d.finds("part-resized", "caution", SPOTS[1], "light-2")
    return d


def cells_in_parallel() -> Draft:
    d = clean()
    s = d.sheet
    d.layers["tape"] = [plus(s, (*PLUS[:2], (88, 136.5))), minus(s, (*MINUS[:2], (58, 136.5)))]
    second = holder(s, s.move(73, 134), closes="press").replace('id="battery"', 'id="battery-2"')
    d.layers["power"].append(second)
    d.finds("cells-in-parallel", "caution", (73, 134), "battery", "battery-2")
    return d


def always_on() -> Draft:
    """Meant for a pull tab that is not there."""
    d = clean()
    d.layers["power"] = [holder(d.sheet, d.sheet.move(*BATTERY), closes="tab")]
    d.finds("always-on", "caution", BATTERY, "battery")
    return d


def current_too_high() -> Draft:
    """Small lights that stand 1 mA, and nothing before them."""
    d = clean({"lights": {"warm-white": {"largest-ma": 1.0}}})
    for i, at in enumerate(SPOTS, 1):
        d.finds("current-too-high", "stop", at, f"light-{i}")
    return d


def voltage_too_low() -> Draft:
    """Two more lights lie in a row between the leads."""
    d = clean()
    d.layers["tape"].append(strip(d.sheet, "between", ((64, 80), (82, 80))))
    d.layers["lights"].append(shining(d.sheet, "light-4", (84, 80), 0))
    d.layers["lights"].append(shining(d.sheet, "light-5", (62, 80), 0))
    d.finds("voltage-too-low", "stop", (84, 80), "light-4")
    d.finds("voltage-too-low", "stop", (62, 80), "light-5")
    return d


def cell_overdrawn() -> Draft:
    """A battery that can give 3 mA for long."""
    d = clean({"cells": {"cr2032": {"continuous-ma": 3.0}}})
    d.finds("cell-overdrawn", "caution", BATTERY, "battery")
    return d


def uneven_lights() -> Draft:
    """Tape of poor cloth, fed from one end, and a maker who wants all lights alike."""
    limits = {"light-smallest-ma": 0.1, "light-evenness": 0.8}
    d = clean({"tape": {"ohms-per-square": 8.0}, "limits": limits})
    d.finds("uneven-lights", "caution", SPOTS[0], "light-1", "light-3")
    return d


def light_dim() -> Draft:
    """A maker who wants 2.5 mA at every light."""
    d = clean({"limits": {"light-smallest-ma": 2.5}})
    for i, at in enumerate(SPOTS, 1):
        d.finds("light-dim", "caution", at, f"light-{i}")
    return d


def cell_life_short() -> Draft:
    """A lantern that should burn for a weekend."""
    d = clean({"limits": {"least-hours": 48.0}})
    d.finds("cell-life-short", "caution", BATTERY, "battery")
    return d


def stack_too_low() -> Draft:
    """Foam of 3.2 and 2 mm beside a battery holder of 5 mm: it settles to 4.4."""
    d = clean({"stack": {"spacer": 5.2}})
    d.layers["foam"] = [d.sheet.rect((5, 5, 95, 4), FOAM, id="foam-1")]
    d.finds("stack-too-low", "caution", BATTERY, "battery")
    return d


def card_too_thick() -> Draft:
    """6 mm of foam and four sheets of card are more than a letter of 5 mm."""
    d = clean({"stack": {"post": "uk-letter"}})
    d.finds("card-too-thick", "caution", None)
    return d


def loose_piece() -> Draft:
    """A ring of a moon: its middle falls out."""
    d = clean()
    s = d.sheet
    d.layers["die-cut"] += [
        s.circle(80, 22, 6, CUT, id="moon"),
        s.circle(80, 22, 3, CUT, id="middle"),
    ]
    d.finds("loose-piece", "caution", (80, 22), "middle")
    return d


def object_skipped() -> Draft:
    d = clean()
    x, y = d.sheet.at(20, 90)
    words = f'<text id="words" x="{x:g}" y="{y:g}" style="font-size:5px">plus here</text>'
    d.layers["tape"].append(words)
    d.finds("object-skipped", "caution", (20, 90), "words")
    return d


def object_skipped_stop() -> Draft:
    d = clean()
    style = "fill:none;stroke:#e69f00;stroke-width:5"
    d.layers["tape"].append(f'<path id="torn" d="M 30 100 L NaN 100" style="{style}" />')
    d.finds("object-skipped", "stop", (20, 90), "torn")
    return d


# ---- notes ---------------------------------------------------------------------------------------


def outline_doubled() -> Draft:
    d = clean()
    inner = d.sheet.path(placed(arch(8.4, 13.4), *SPOTS[1]), CUT, id="pane-2-again")
    d.layers["die-cut"].append(inner)
    d.finds("outline-doubled", "note", SPOTS[1], "pane-2", "pane-2-again")
    return d


def outline_open() -> Draft:
    d = clean()
    d.layers["die-cut"].append(d.sheet.path("M 20 70 L 45 70 L 45 90", CUT, id="score"))
    d.finds("outline-open", "note", (37, 75), "score")
    return d


def sketch_line() -> Draft:
    d = clean()
    d.layers["tape"].append(d.sheet.path("M 20 70 L 45 70 L 45 90", THIN, id="plan"))
    d.finds("sketch-line", "note", (45, 70), "plan")
    return d


def strip_floating() -> Draft:
    d = clean()
    d.layers["tape"].append(strip(d.sheet, "lost", ((20, 80), (45, 80))))
    d.finds("strip-floating", "note", (32.5, 80), "lost")
    return d


def strip_spare() -> Draft:
    d = clean()
    d.layers["tape"].append(strip(d.sheet, "spare", ((58, 80), (30, 80)), "negative"))
    d.finds("strip-spare", "note", (44, 80), "spare")
    return d


def polarity_label_wrong() -> Draft:
    d = clean()
    d.layers["tape"][1] = strip(d.sheet, "minus", MINUS, "positive")
    d.finds("polarity-label-wrong", "note", (58, 80), "minus")
    return d


def glow_uneven() -> Draft:
    """The middle pane reaches far above and below its light."""
    d = clean()
    d.layers["die-cut"][2] = d.sheet.rect((32.5, 18, 9, 50), CUT, id="pane-2")
    d.finds("glow-uneven", "note", SPOTS[1], "pane-2")
    return d


def outside_panel() -> Draft:
    """The panel is drawn beside the back sheet."""
    d = clean(card=(225.0, 148.0))
    s = d.sheet
    beside = {"transform": s.shift((0, 0), (118, 0))}
    d.layers["die-cut"] = [group(beside, d.layers["die-cut"])]
    d.layers["picture"] = [group(beside, d.layers["picture"])]
    d.finds("outside-panel", "note", (52.5, 74), "back-sheet")
    return d


def width_not_in_stock() -> Draft:
    d = clean()
    d.layers["tape"][1] = strip(d.sheet, "minus", MINUS, "negative", 4.2)
    d.finds("width-not-in-stock", "note", (58, 80), "minus")
    return d


def coin_cell() -> Draft:
    """The clean card: nothing but the standing caution."""
    return clean()


#: Notes whose place is anywhere on a long thing.
ANYWHERE = {
    "polarity-label-wrong", "width-not-in-stock", "outside-panel", "strip-spare", "outline-open",
    "strip-floating", "outline-doubled",
}  # fmt: skip

DRAFTS: tuple[Callable[[], Draft], ...] = (
    layer_missing, outline_crosses_itself, part_incomplete, parts_overlap, power_missing,
    polarities_touch, light_reversed, light_unfed, light_shorted, pad_barely_covered,
    joint_too_small, joint_not_conducting, cell_rim_touch, gap_too_small, gap_too_small_stop,
    off_base, folded_touch, current_too_high, voltage_too_low, edge_too_near, tape_shows,
    base_shows, strip_narrow, tape_on_fold,
    light_off_opening, light_blocked, foam_on_part, part_resized,
    cells_in_parallel, cell_overdrawn, uneven_lights, light_dim, always_on, cell_life_short,
    stack_too_low, card_too_thick,
    loose_piece, object_skipped, object_skipped_stop, outline_doubled, outline_open, sketch_line,
    strip_floating, strip_spare, polarity_label_wrong, glow_uneven, outside_panel,
    width_not_in_stock, coin_cell,
)  # fmt: skip


def text_of(d: Draft) -> str:
    """The SVG of a draft; empty layers are left out, but not an empty Power layer."""
    for role, objects in d.layers.items():
        if objects or role == "power":
            d.sheet.layer(role, objects, d.labels.get(role, ""))
    return d.sheet.text()


def drawn() -> dict[str, str]:
    """File name -> text of every faulty sample and of what it must find."""
    files: dict[str, str] = {}
    for draw in DRAFTS:
        name = draw.__name__.replace("_", "-")
        d = draw()
        d.sheet.title = f"Harbour Lane: lantern panes, {name}"
        d.sheet.desc = (draw.__doc__ or f"One fault: {name}.").strip()
        if draw is not power_missing:
            cells = ["battery", "battery-2"] if draw is cells_in_parallel else ["battery"]
            d.finds("coin-cell", "note", None, *cells)
        files[f"{name}.svg"] = text_of(d)
        rows = ",\n".join(f"  {json.dumps(entry)}" for entry in d.expected)
        files[f"{name}.expected.json"] = f"[\n{rows}\n]\n"
    return files


def main() -> None:
    """Write all of them."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, text in drawn().items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
