"""The card as the hand sees it: labelled tapes, numbered lights, in the working view.

Where the circuit lies on the back of its sheet everything is mirrored once, here: the hand works on
that back. Lengths and counts are those of the report.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from ..connectivity.contacts import is_bare
from ..model.card import PADS, Part
from ..model.case import Case
from ..records import record
from ..stack import planned, settled
from ..units import TOLERANCE

#: How labels begin: plus, minus, neither.
LETTERS = {"positive": "P", "negative": "M", None: "T"}

#: A filled strip whose area fills its tightest box so far is a straight piece of a roll.
STRAIGHT = 0.98
#: A strip has two ends.
ENDS = 2


@record
class Tape:
    """One strip. `overlap` is how much of its length lies on strips laid before it (mm).

    `folds` counts its folded corners, `ends` its ends that are folded under where they lie on
    such strips, because the glue does not conduct. `roll` is false where the strip is a shape
    that has to be cut from a sheet of tape; then `box` is the size of the sheet it needs.
    """

    label: str
    name: str
    sign: str | None
    order: int
    geometry: BaseGeometry
    width: float
    length: float
    folds: int
    ends: int
    overlap: float
    roll: bool
    box: tuple[float, float]

    @property
    def all_folds(self) -> int:
        """Folded corners and folded ends."""
        return self.folds + self.ends


@record
class Paper:
    """One insulating patch."""

    label: str
    name: str
    order: int
    geometry: BaseGeometry


@record
class Piece:
    """A part. `call` is its name in words ("light 4"); `on` maps a foot to labels of tapes."""

    id: str
    call: str
    kind: str
    type: str
    number: int
    body: BaseGeometry
    feet: tuple[tuple[str, BaseGeometry], ...]
    at: tuple[float, float]
    on: tuple[tuple[str, tuple[str, ...]], ...]
    bare: bool = False
    closes: str = ""
    up: str = "plus"
    ohms: str = ""
    window: int | None = None

    def tapes(self, foot: str) -> tuple[str, ...]:
        """Labels of the tapes that a foot lies on."""
        return dict(self.on).get(foot, ())


@record
class Spacer:
    """Foam: thickness of each layer, lowest first (mm; none: the maker's own), and of all.

    `over` is the tallest part as a maker calls it, `height` how high it stands; `settled` is what
    is left of the foam once it has settled, `travel` how far a spot to press goes down. `closed` is
    the closed card at its thickest, without and with its envelope.
    """

    layers: tuple[float, ...]
    thickness: float
    over: str
    height: float
    settled: float
    travel: float | None
    closed: tuple[float, float]


@record
class Scene:
    """Everything that pages draw (mm, working view)."""

    base: BaseGeometry
    base_drawn: bool
    front: BaseGeometry
    #: areas of the front that only shine through, and lines that only score it
    through: BaseGeometry
    scores: BaseGeometry
    windows: tuple[tuple[int, BaseGeometry], ...]
    glued: int
    loose: int
    foam: BaseGeometry
    foam_pads: int
    covers: BaseGeometry
    diffusers: BaseGeometry
    folds: tuple[BaseGeometry, ...]
    tapes: tuple[Tape, ...]
    papers: tuple[Paper, ...]
    lights: tuple[Piece, ...]
    cells: tuple[Piece, ...]
    others: tuple[Piece, ...]
    tabs: tuple[Piece, ...]
    back: bool
    #: whether the glue of the tape conducts (an overlap is a connection as it is)
    conducts: bool = True
    #: the foam of the report's stack; None where no light or battery says how high it must be
    stack: Spacer | None = None

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Bounds of base, tape and parts."""
        areas = [self.base, *(t.geometry for t in self.tapes), *(p.geometry for p in self.papers)]
        areas += [p.body for p in (*self.lights, *self.cells, *self.others, *self.tabs)]
        left, top, right, bottom = shapely.total_bounds(areas)
        return (float(left), float(top), float(right), float(bottom))


def scene_of(case: Case) -> Scene:
    """The working view of a card. Needs a base or a panel."""
    card = case.card
    turn = _Turn(card.side == "back", card.base)
    labels = labels_of(case)
    panel = shapely.union_all([p.outline for p in card.panels])
    holes = shapely.union_all([o.clear for o in card.openings if not o.through])
    return Scene(
        base=turn(card.base),
        base_drawn=card.base_drawn,
        front=turn(shapely.difference(panel, holes)),
        through=turn(shapely.union_all([o.outline for o in card.openings if o.through])),
        scores=turn(shapely.union_all([score.line for score in card.scores])),
        windows=tuple((o.number, turn(o.outline)) for o in card.openings),
        glued=sum(piece.stays for piece in card.loose),
        loose=sum(not piece.stays for piece in card.loose),
        foam=turn(shapely.union_all([s.geometry for s in card.foam])),
        foam_pads=sum(shapely.get_num_geometries(s.geometry) for s in card.foam),
        covers=turn(shapely.union_all([s.geometry for s in card.covers])),
        diffusers=turn(shapely.union_all([s.geometry for s in card.diffusers])),
        folds=tuple(turn(fold.line) for fold in card.folds),
        tapes=_tapes(case, labels, turn),
        papers=tuple(
            Paper(f"paper {n}" if len(card.patches) > 1 else "paper", p.name, p.order,
                  turn(p.geometry))
            for n, p in enumerate(card.patches, 1)
        ),
        lights=_pieces(case, card.lights, labels, turn),
        cells=_pieces(case, card.cells, labels, turn),
        others=_pieces(case, card.switches + card.resistors, labels, turn),
        tabs=_pieces(case, card.pull_tabs, labels, turn),
        back=card.side == "back",
        conducts=case.profile.tape.adhesive_conducts,
        stack=spacer_of(case),
    )  # fmt: skip


def spacer_of(case: Case) -> Spacer | None:
    """The foam that the report's `stack` has."""
    plan, foams = planned(case.card, case.profile), case.profile.foams
    if plan.tall is None:
        return None
    layers = plan.layers
    own = layers is None or layers.thickness != plan.spacer
    return Spacer(
        layers=() if own or layers is None else tuple(foams[f].thickness for f in layers.foams),
        thickness=plan.spacer,
        over=case.inner(plan.tall.part),
        height=plan.tall.height,
        settled=settled(plan.spacer, case.profile),
        travel=None if own or layers is None else layers.travel,
        closed=(plan.made.thickest, plan.made.thickest + plan.made.envelope),
    )


def labels_of(case: Case) -> tuple[str, ...]:
    """P1, P2, M1, ... of every strip, numbered on each side in laying order."""
    counts = dict.fromkeys(LETTERS, 0)
    labels = []
    for i in range(len(case.card.strips)):
        sign = case.signs[i]
        counts[sign] += 1
        labels.append(f"{LETTERS[sign]}{counts[sign]}")
    return tuple(labels)


class _Turn:
    """Mirrors geometry from side to side about the middle of the base, or leaves it."""

    def __init__(self, mirrored: bool, about: BaseGeometry) -> None:
        self._mirrored = mirrored
        left, _, right, _ = shapely.total_bounds([about])
        self._sum = float(left + right)

    def __call__(self, geometry: BaseGeometry) -> BaseGeometry:
        if not self._mirrored:
            return geometry
        return shapely.transform(geometry, self._points)

    def _points(self, points: np.ndarray) -> np.ndarray:
        return np.column_stack([self._sum - points[:, 0], points[:, 1]])


def _tapes(case: Case, labels: Sequence[str], turn: _Turn) -> tuple[Tape, ...]:
    overlaps, ends = _overlaps(case)
    found = []
    for i, strip in enumerate(case.card.strips):
        box = shapely.minimum_rotated_rectangle(strip.geometry)
        sides = sorted(_sides(box))
        roll = strip.stroked or strip.geometry.area >= STRAIGHT * box.area
        found.append(
            Tape(
                labels[i], strip.name, case.signs[i], strip.order, turn(strip.geometry),
                strip.width, strip.length, strip.folds if roll else 0, ends[i],
                overlaps[i], roll, (sides[1], sides[0]),
            )
        )  # fmt: skip
    return tuple(found)


def _sides(box: BaseGeometry) -> tuple[float, float]:
    corners = shapely.get_coordinates(box)
    if len(corners) < 3:
        return (0.0, 0.0)
    return (
        float(np.hypot(*(corners[1] - corners[0]))),
        float(np.hypot(*(corners[2] - corners[1]))),
    )


def _overlaps(case: Case) -> tuple[list[float], list[int]]:
    """Of every strip the length that lies on strips below it (mm), and its ends to fold under."""
    strips = case.card.strips
    lengths, ends = [0.0] * len(strips), [0] * len(strips)
    for i in case.circuit.live:
        contact = case.circuit.contacts[i]
        if contact.upper < len(strips) and contact.lower < len(strips):
            lengths[contact.upper] += contact.area / strips[contact.upper].width
            ends[contact.upper] += strips[contact.upper].joint != "soldered"
    if case.profile.tape.adhesive_conducts:
        return lengths, [0] * len(strips)
    return lengths, [min(number, ENDS) for number in ends]


def _pieces(
    case: Case, parts: Sequence[Part], labels: Sequence[str], turn: _Turn
) -> tuple[Piece, ...]:
    windows = [(o.number, o.outline) for o in case.card.openings]
    found = []
    for number, part in enumerate(parts, 1):
        place = shapely.Point(part.at)
        at = shapely.get_coordinates(turn(place))[0]
        near = [(area.area, n) for n, area in windows if area.distance(place) <= TOLERANCE]
        found.append(
            Piece(
                id=part.id,
                call=case.inner(part),
                kind=part.kind,
                type=part.type,
                number=number,
                body=turn(part.body),
                feet=tuple((pad, turn(part.features[pad])) for pad in PADS[part.kind]),
                at=(float(at[0]), float(at[1])),
                on=tuple((pad, _tapes_under(case, part, pad, labels)) for pad in PADS[part.kind]),
                bare=part.kind == "cell" and is_bare(part, _open_pad(part)),
                closes=part.attributes.get("closes", ""),
                up=part.attributes.get("up", "plus"),
                ohms=part.attributes.get("ohms", ""),
                window=min(near)[1] if near and part.kind == "light" else None,
            )
        )
    return tuple(found)


def _open_pad(cell: Part) -> str | None:
    """The foot of a flap that is drawn where the flap lies open."""
    if cell.attributes.get("closes") != "flap":
        return None
    disc = cell.body.buffer(TOLERANCE)
    apart = [pad for pad in PADS["cell"] if not disc.covers(cell.features[pad])]
    return apart[0] if len(apart) == 1 else None


def _tapes_under(case: Case, part: Part, pad: str, labels: Sequence[str]) -> tuple[str, ...]:
    circuit = case.circuit
    number = circuit.pad_index[part.id, pad]
    ends = {
        end
        for i in case.contacts_of.get(number, ())
        for end in (circuit.contacts[i].upper, circuit.contacts[i].lower)
        if end < len(labels)
    }
    return tuple(labels[i] for i in sorted(ends))
