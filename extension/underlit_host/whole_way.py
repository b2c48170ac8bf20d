"""The whole way in one go: every step on the drawing that the one before has left."""

from __future__ import annotations

import copy
import os
from collections.abc import Callable, Iterator, Sequence

from lxml import etree

from underlit.errors import UnknownChoice
from underlit.interpretation.card import read_card
from underlit.model.drawing import Drawing
from underlit.profiles import Profile
from underlit.routing import Clock
from underlit.workflows import make_it_light as way
from underlit.workflows.board import Wish as TapeWish
from underlit.workflows.make_it_light import MadeLight, Step
from underlit.workflows.pieces import marked
from underlit.workflows.place_lights import Order as LightOrder
from underlit.workflows.place_lights import place
from underlit.workflows.place_power import Placing, place_power
from underlit.workflows.placing_power import NAMES, Chosen
from underlit.workflows.power_kinds import Order as PowerOrder
from underlit.workflows.prepare import prepare
from underlit.workflows.preview import Wish as GlowWish
from underlit.workflows.preview import preview
from underlit.workflows.route import lay_tape
from underlit.workflows.validate import case_of, validate

from .choosing import arrange
from .glowing import draw_glow
from .layers import Ids, mm_to_local
from .lighting import draw_dark, draw_lights, referred
from .names import SHAPES, SVG
from .placing_power import draw_power
from .preparing import BASE_MARGIN, draw_openings, draw_preparation
from .read_drawing import read_drawing
from .routing import draw_routed
from .transforms import compose
from .write_drawing import draw_findings, matrix_text

#: The card that an empty page gets.
LANTERN = os.path.join(
    os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "cards", "first-lantern.svg"
)

#: Batteries are tried so far from each other (mm), and at so many places.
APART, MOST_TRIED = 15.0, 4

#: Laying tape stops improving after so long (seconds), so that all is there within a minute.
PATIENCE = 8.0

_DRAWN = tuple(SVG + name for name in (*SHAPES, "use", "text", "image"))


class WholeWay:
    """The drawing on its way. `root` is the drawing's root element as it stands now."""

    def __init__(self, root: etree._Element, name: str, profile: Profile, clock: Clock) -> None:
        self.root = root
        self.steps: list[Step] = []
        self._untouched = False
        self._name, self._profile, self._clock = name, profile, clock

    def go(self, selected: Sequence[str]) -> MadeLight:
        """Walk as far as it goes; everything that was done is drawn on `root`."""
        lantern = _is_empty(self.root)
        if lantern:
            insert_card(self.root, LANTERN)
        steps: tuple[Callable[[], bool], ...] = (
            lambda: self._prepare(selected),
            self._lights,
            self._power_and_tape,
        )
        done = all(step() for step in steps)
        if not self._untouched:
            self._renumber()
        if done:
            self._check()
        if any(step.name == way.LIGHTS and step.done for step in self.steps):
            self._glow()
        return way.outcome(self.steps, lantern, self._untouched)

    def _read(self) -> Drawing:
        return read_drawing(self.root, self._name)

    def _note(self, name: str, done: bool, words: str, report: dict[str, object]) -> bool:
        self.steps.append(Step(name, done, words, report))
        return done

    def _prepare(self, selected: Sequence[str]) -> bool:
        _set_roles(self.root, selected)
        drawing = self._read()
        has_base = any(shape.role == "base" for shape in drawing.shapes)
        ready = prepare(drawing, self._profile, None if has_base else BASE_MARGIN)
        pieces = ready.report["preparation"]["pieces"]  # type: ignore[index]
        several = len(pieces) > 1 and not marked(drawing)
        if not ready.untouched:
            draw_preparation(self.root, ready)
        self._untouched = ready.untouched
        done = bool(pieces) and not several
        return self._note(way.PREPARE, done, ready.message, ready.report)

    def _renumber(self) -> None:
        """Numbers of windows keep clear of lights, which laying tape may have turned."""
        draw_openings(self.root, prepare(self._read(), self._profile, None).groups)

    def _lights(self) -> bool:
        drawing = self._read()
        if any(part.role == "lights" for part in drawing.parts):
            return self._note(way.LIGHTS, True, "", {})
        taken = referred(self.root).union(self.root.xpath("//@id"))
        lit = place(drawing, self._profile, LightOrder(taken=taken))
        draw_lights(self.root, lit.drawn, lit.removed)
        draw_dark(self.root, drawing, lit)
        return self._note(way.LIGHTS, bool(lit.drawn), lit.message, lit.report)

    def _power_and_tape(self) -> bool:
        """The battery at the first place from which all lights can be reached.

        Where there is none, the first place at which it fits stays, with what was said there.
        """
        if any(part.role == "power" for part in self._read().parts):
            self._note(way.POWER, True, "", {})
            return self._tape()
        before, steps = self.root, list(self.steps)
        kept: tuple[etree._Element, list[Step]] | None = None
        for placing, names in self._batteries():
            self.root, self.steps = copy.deepcopy(before), list(steps)
            self._note(way.POWER, not placing.untouched, placing.message, placing.report)
            if not placing.untouched:
                draw_power(self.root, placing.drawn, placing.marks, names, placing.paper_first)
                if self._tape():
                    return True
            kept = kept or (self.root, self.steps)
        if kept is not None:
            self.root, self.steps = kept
        return False

    def _batteries(self) -> Iterator[tuple[Placing, dict[str, str]]]:
        """A battery at each spot, or the nearest place that fits; one that fits nowhere is last."""
        ids = Ids(self.root)
        names = {key: ids.free(name) for key, name in NAMES.items()}
        drawing = self._read()
        tried: list[tuple[float, float]] = []
        card = read_card(drawing, self._profile.tape.corners).card
        for spot in way.spots(card.panels):
            at = spot
            for _ in range(2):
                if len(tried) == MOST_TRIED or not way.far_from(tried, at, APART):
                    break
                order, chosen = PowerOrder(), Chosen(at=at)
                placing = place_power(drawing, self._profile, order, chosen, names)
                nearest = way.nearest_of(placing.report)
                if not placing.untouched:
                    tried.append(at)
                    yield placing, names
                if not placing.untouched or nearest is None:
                    break
                at = nearest
        if not tried:
            yield placing, names

    def _tape(self) -> bool:
        drawing = self._read()
        case = case_of(drawing, self._profile)
        if len(case.lit) == len(case.card.lights):
            return self._note(way.TAPE, True, "", {})
        laid = lay_tape(drawing, self._profile, TapeWish(seconds=PATIENCE), False, self._clock)
        draw_routed(self.root, drawing, laid)
        return self._note(way.TAPE, laid.laid, laid.message, laid.report)

    def _check(self) -> None:
        drawing = self._read()
        found = validate(drawing, self._profile, checked="")
        draw_findings(self.root, drawing, found.sheet, found.remember)
        self._note(way.CHECK, True, found.message, found.report)

    def _glow(self) -> None:
        shown = preview(self._read(), self._profile, GlowWish())
        draw_glow(self.root, shown)
        self._note(way.GLOW, shown.picture is not None, shown.message, shown.report)


def insert_card(root: etree._Element, path: str) -> None:
    """Put the layers of a card (a file of ours, in mm) in the middle of an empty page."""
    card = etree.parse(path).getroot()
    drawing = read_drawing(root, "")
    width, height = (float(card.get(key).removesuffix("mm")) for key in ("width", "height"))
    page = drawing.page
    dx, dy = max((page.width - width) / 2, 0.0), max((page.height - height) / 2, 0.0)
    to_page = compose(mm_to_local(root, root), (1.0, 0.0, 0.0, 1.0, dx, dy))
    ids = Ids(root)
    for layer in card.findall(SVG + "g"):
        for element in layer.iter(SVG + "*"):
            if "id" in element.attrib:
                element.attrib["id"] = ids.free(element.attrib["id"])
        layer.attrib["transform"] = matrix_text(to_page)
        etree._Element.append(root, layer)


def _set_roles(root: etree._Element, selected: Sequence[str]) -> None:
    """Roles as Prepare sets them; a selection counts where it can be the panel, else not."""
    if selected:
        try:
            arrange(copy.deepcopy(root), (), (), selected, "auto")
        except UnknownChoice:
            selected = ()
    arrange(root, (), (), selected, "auto" if selected else "none")


def _is_empty(root: etree._Element) -> bool:
    """Whether nothing at all is drawn, hidden things included."""
    return next(root.iter(_DRAWN), None) is None
