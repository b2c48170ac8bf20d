"""A card as plain data: what a maker drew, in millimetres, in drawing order."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from .shapes import (
    IDENTITY,
    Affine,
    Circle,
    Line,
    Point,
    Poly,
    Shape,
    apply,
    compose,
    moved,
    rect,
    shift,
    stretch,
    turn,
)

CONDUCTORS = ("positive-pad", "negative-pad", "contact-1", "contact-2")


@dataclass(frozen=True)
class Outline:
    """A closed outline of a sheet, or an opening."""

    id: str
    shape: Shape
    attrs: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Tape:
    """One object of the tape layer: all its shapes are painted as one object."""

    id: str
    shapes: tuple[Shape, ...]
    patch: bool = False
    clip: Poly | None = None
    cloned: int = 0
    """Drawn as a clone (1), a clone of a clone (2), ..."""
    attrs: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Fold:
    id: str
    start: Point
    end: Point
    attrs: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Part:
    """A part in its own frame (origin = place, x axis = from negative to positive)."""

    id: str
    kind: str
    features: tuple[tuple[str, Shape], ...]
    at: Point
    angle: float = 0.0
    scale: float = 1.0
    mirrored: bool = False
    """Across its own long axis."""
    attrs: tuple[tuple[str, str], ...] = ()

    @property
    def frame(self) -> Affine:
        own = stretch(self.scale, -self.scale if self.mirrored else self.scale)
        return compose(shift(*self.at), compose(turn(self.angle), own))

    def feature(self, name: str) -> Shape:
        return moved(dict(self.features)[name], self.frame)

    def place(self, name: str) -> Point:
        return centre_of(self.feature(name))


@dataclass(frozen=True)
class Card:
    """Everything on one page. `motion` is applied to all of it when it is drawn."""

    page: tuple[float, float]
    die_cut: tuple[Outline, ...] = ()
    base: tuple[Outline, ...] = ()
    folds: tuple[Fold, ...] = ()
    lights: tuple[Part, ...] = ()
    power: tuple[Part, ...] = ()
    tape: tuple[Tape, ...] = ()
    foam: tuple[Outline, ...] = ()
    cover: tuple[Outline, ...] = ()
    diffuser: tuple[Outline, ...] = ()
    motion: Affine = IDENTITY
    attrs: tuple[tuple[str, str], ...] = field(default=())

    @property
    def parts(self) -> tuple[Part, ...]:
        return self.lights + self.power

    def tape_of(self, id_: str) -> Tape:
        return next(t for t in self.tape if t.id == id_)

    def part_of(self, id_: str) -> Part:
        return next(p for p in self.parts if p.id == id_)


def with_tape(card: Card, *changed: Tape) -> Card:
    """The card with tape objects of the same ids replaced and new ones laid last."""
    new = {t.id: t for t in changed}
    known = {t.id for t in card.tape}
    kept = tuple(new.get(t.id, t) for t in card.tape)
    return replace(card, tape=kept + tuple(t for t in changed if t.id not in known))


def with_part(card: Card, part: Part) -> Card:
    return replace(
        card,
        lights=tuple(part if p.id == part.id else p for p in card.lights),
        power=tuple(part if p.id == part.id else p for p in card.power),
    )


def centre_of(shape: Shape) -> Point:
    """Centroid of a convex shape's corners, middle of a disc or of a polyline's run."""
    match shape:
        case Circle(centre, _):
            return centre
        case Line(points, _):
            n = len(points)
            return (sum(p[0] for p in points) / n, sum(p[1] for p in points) / n)
        case Poly(points, _):
            n = len(points)
            return (sum(p[0] for p in points) / n, sum(p[1] for p in points) / n)


def strip(id_: str, points: list[Point], width: float = 5.0, **more: object) -> Tape:
    return Tape(id_, (Line(tuple(points), width),), **more)  # type: ignore[arg-type]


def filled(id_: str, shape: Shape, **more: object) -> Tape:
    return Tape(id_, (shape,), **more)  # type: ignore[arg-type]


def patch(id_: str, shape: Shape) -> Tape:
    return Tape(id_, (shape,), patch=True)


def light(id_: str, at: Point, angle: float, type_: str = "warm-white", **attrs: str) -> Part:
    """Body 12 x 5, pads 3 x 3 at 4 mm to both sides, lens 3 across."""
    features = (
        ("body", rect(0, 0, 12, 5)),
        ("positive-pad", rect(4, 0, 3, 3)),
        ("negative-pad", rect(-4, 0, 3, 3)),
        ("lens", Circle((0, 0), 1.5)),
    )
    return Part(id_, "light", features, at, angle, attrs=(("type", type_), *sorted(attrs.items())))


def holder(
    id_: str, at: Point, angle: float = 0.0, foot: float = 14.0, closes: str = "press"
) -> Part:
    """A cr2032 holder: body of radius 10.5, feet 6 x 6 outside it."""
    features = (
        ("body", Circle((0, 0), 10.5)),
        ("positive-pad", rect(foot, 0, 6, 6)),
        ("negative-pad", rect(-foot, 0, 6, 6)),
    )
    return Part(id_, "cell", features, at, angle, attrs=(("type", "cr2032"), ("closes", closes)))


def bare_cell(id_: str, at: Point, plus_at: Point, closes: str = "flap", pad: float = 8.0) -> Part:
    """A bare cr2032: minus pad in the disc, plus pad at `plus_at` from its middle."""
    features = (
        ("body", Circle((0, 0), 10.0)),
        ("positive-pad", rect(*plus_at, pad, pad)),
        ("negative-pad", rect(0, 0, pad, pad)),
    )
    return Part(id_, "cell", features, at, attrs=(("type", "cr2032"), ("closes", closes)))


def two_contacts(id_: str, kind: str, at: Point, angle: float, **attrs: str) -> Part:
    """A switch or a resistor: contacts 3 x 3 at 4 mm to both sides, body 10 x 4."""
    features = (
        ("body", rect(0, 0, 10, 4)),
        ("contact-1", rect(-4, 0, 3, 3)),
        ("contact-2", rect(4, 0, 3, 3)),
    )
    return Part(id_, kind, features, at, angle, attrs=tuple(sorted(attrs.items())))


def switch(id_: str, at: Point, angle: float = 0.0, closes: str = "slide") -> Part:
    return two_contacts(id_, "switch", at, angle, closes=closes)


def resistor(id_: str, at: Point, angle: float = 0.0, ohms: str = "47") -> Part:
    return two_contacts(id_, "resistor", at, angle, ohms=ohms)


def rotated(card: Card, angle: float, page: tuple[float, float]) -> Card:
    """The card turned about its page's middle and put into the middle of another page."""
    w, h = card.page
    back = compose(shift(page[0] / 2, page[1] / 2), compose(turn(angle), shift(-w / 2, -h / 2)))
    return replace(card, page=page, motion=compose(back, card.motion))


def to_page(card: Card, p: Point) -> Point:
    """A place in the card's own frame, on the page."""
    return apply(card.motion, p)


def page_for(card: Card, angle: float, rim: float = 4.0) -> tuple[float, float]:
    """A page that holds the card's page turned by `angle`."""
    w, h = card.page
    c, s = abs(math.cos(math.radians(angle))), abs(math.sin(math.radians(angle)))
    return (round(w * c + h * s + 2 * rim, 2), round(w * s + h * c + 2 * rim, 2))
