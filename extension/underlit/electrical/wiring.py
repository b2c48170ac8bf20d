"""A card's circuit as a network of tape, contacts and pads, ready to be given resistances.

Nodes: first the pads of parts in the order of conductors, then one for each side of a contact
that lies on a strip. Tape is measured in squares, contacts in mm2; what a square or a mm2 is
worth comes later (`networks`), since it differs between states and what-ifs.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from ..model.card import Strip
from ..model.circuit import Circuit, Contact
from ..records import record
from .chains import centre_lines, lay_chains
from .elimination import Floats, Ints
from .overlaps import short_pieces

#: Kinds of contacts.
JOINT, PAD, SOLDERED = 0, 1, 2

#: A contact that only touches conducts as this area does (mm2).
LEAST_AREA = 0.01


@record
class Wiring:
    """`tape` (t, 2) branches with `per_square` (t,) conductance for one ohm per square and
    `mm` (t,) of length; `contacts` (c, 2) with area, kind, and `less` (c,), the squares that
    an overlap shares with the tape under it. `contact` (c,) numbers them in the circuit;
    `square` (c,) is the narrower strip's width squared, `foot` (c,) the area of the pad (inf at
    joints). `pad_node` maps (part id, pad) to a node.
    """

    nodes: int
    tape: Ints
    per_square: Floats
    mm: Floats
    contacts: Ints
    area: Floats
    kind: Ints
    less: Floats
    contact: Ints
    square: Floats
    foot: Floats
    pad_node: dict[tuple[str, str], int]


@record
class _Touch:
    """One side of a contact on a strip: number of the contact, of the strip, and its node."""

    contact: Ints
    strip: Ints
    node: Ints


def wire(circuit: Circuit) -> Wiring:
    """The network of all contacts that conduct (those of shorts too) and the strips between."""
    strips = [c.strip for c in circuit.conductors if c.strip is not None]
    count = len(strips)
    pieces = list(_pieces(circuit))
    numbers = np.array([i for i, _ in pieces], dtype=np.intp)
    found = [circuit.contacts[i] for i in numbers]
    upper = np.array([c.upper for c in found], dtype=np.intp)
    lower = np.array([c.lower for c in found], dtype=np.intp)
    pads = len(circuit.conductors) - count
    contact = np.arange(len(found))
    on_strip = upper < count
    own = np.concatenate([contact, contact[on_strip]])
    touch = _Touch(own, np.concatenate([lower, upper[on_strip]]), pads + np.arange(len(own)))
    ends = np.stack([upper - count, touch.node[: len(found)]], axis=1)
    ends[on_strip, 0] = touch.node[len(found) :]
    places = np.array([place for _, place in pieces], dtype=object)
    area = np.array([c.area for c in found]) * _shares(found, places)
    tape, per_square, mm, less = _tape(strips, touch, places)
    return Wiring(
        nodes=pads + len(own),
        tape=tape,
        per_square=per_square,
        mm=mm,
        contacts=ends,
        area=np.maximum(area, LEAST_AREA),
        kind=_kinds(strips, upper, lower),
        less=np.bincount(own, less, len(found)).astype(float),
        contact=numbers,
        square=_squares(strips, upper, lower),
        foot=_feet(circuit, upper),
        pad_node={key: i - count for key, i in circuit.pad_index.items()},
    )


def _pieces(circuit: Circuit) -> Iterator[tuple[int, BaseGeometry]]:
    """Number and place of all contacts that conduct; a long overlap comes in several pieces."""
    for i, contact in enumerate(circuit.contacts):
        upper, lower = (circuit.conductors[k].strip for k in (contact.upper, contact.lower))
        if not contact.conducts:
            continue
        if upper is None or lower is None:
            yield i, contact.place
            continue
        for piece in short_pieces(contact.place, min(upper.width, lower.width)):
            yield i, piece


def _shares(found: list[Contact], places: np.ndarray) -> Floats:
    """What share (c,) of its contact's area each piece has."""
    whole = shapely.area(np.array([c.place for c in found], dtype=object))
    own = shapely.area(places)
    return np.asarray(np.where(whole > 0.0, own / np.where(whole > 0.0, whole, 1.0), 1.0))


def _kinds(strips: list[Strip], upper: Ints, lower: Ints) -> Ints:
    soldered = np.array([strip.joint == "soldered" for strip in strips], dtype=bool)
    kind = np.where(upper < len(strips), JOINT, PAD)
    both = kind == JOINT
    kind[both] = np.where(soldered[upper[both]] | soldered[lower[both]], SOLDERED, JOINT)
    return kind


def _squares(strips: list[Strip], upper: Ints, lower: Ints) -> Floats:
    width = np.array([strip.width for strip in strips])
    on = np.where(upper < len(strips), upper, lower)
    return np.asarray(np.minimum(width[on], width[lower]) ** 2)


def _feet(circuit: Circuit, upper: Ints) -> Floats:
    pads = [circuit.conductors[i] for i in upper.tolist()]
    return np.array([c.geometry.area if c.strip is None else np.inf for c in pads])


def _tape(
    strips: list[Strip], touch: _Touch, places: np.ndarray
) -> tuple[Ints, Floats, Floats, Floats]:
    """Branches (t, 2) of tape, their conductance and length, and `less` of each touch."""
    less = np.zeros(len(touch.contact))
    used = np.flatnonzero(np.bincount(touch.strip, minlength=len(strips)) > 1)
    lines = centre_lines([strips[i] for i in used])
    lined = np.array([line is not None for line in lines], dtype=bool)
    chained = used[lined]
    parts: list[tuple[Ints, Floats, Floats]] = []
    if len(chained):
        along = [line for line in lines if line is not None]
        branches, fine = _chains(strips, chained, along, touch, places, less)
        parts.append(branches)
        used = np.concatenate([chained[~fine], used[~lined]])
    for i in np.sort(used):
        parts.append(_sheet(strips[i], np.flatnonzero(touch.strip == i), touch, places))
    if not parts:
        return np.empty((0, 2), dtype=np.intp), np.empty(0), np.empty(0), less
    ends, per_square, mm = (np.concatenate(column) for column in zip(*parts, strict=True))
    return ends, per_square, mm, less


def _chains(
    strips: list[Strip],
    chained: Ints,
    lines: list[LineString],
    touch: _Touch,
    places: np.ndarray,
    less: Floats,
) -> tuple[tuple[Ints, Floats, Floats], np.ndarray]:
    """Branches of all chains, and which can be trusted; fills in `less` of their touches.

    Current that enters evenly over a length a of a strip w wide sees its middle less a / 6 w
    squares: the mean of min(x, y) over two places is the nearer middle, over one place
    with itself a / 6 less than its middle.
    """
    chains, fine = lay_chains([strips[i] for i in chained], lines)
    number = np.full(len(strips), -1)
    number[chained[fine]] = np.flatnonzero(fine)
    mine = np.flatnonzero(number[touch.strip] >= 0)
    if not len(mine):  # every chain goes back on itself
        return (np.empty((0, 2), dtype=np.intp), np.empty(0), np.empty(0)), fine
    chain, place = number[touch.strip[mine]], places[touch.contact[mine]]
    points, owner = shapely.get_coordinates(place, return_index=True)
    at = shapely.line_locate_point(chains.lines[chain[owner]], shapely.points(points))
    first = np.flatnonzero(np.r_[True, owner[1:] != owner[:-1]])
    extent = np.maximum.reduceat(at, first) - np.minimum.reduceat(at, first)
    middle = shapely.line_locate_point(chains.lines[chain], shapely.centroid(place))
    less[mine] = extent / (6.0 * chains.width[chain])
    squares = chains.before(chain, middle)
    order = np.lexsort((middle, chain))
    a, b = order[:-1], order[1:]
    same = chain[a] == chain[b]
    a, b = a[same], b[same]
    with np.errstate(divide="ignore"):
        per_square = 1.0 / np.maximum(squares[b] - squares[a], 0.0)
    ends = np.stack([touch.node[mine][a], touch.node[mine][b]], axis=1)
    return (ends, per_square, middle[b] - middle[a]), fine


def _sheet(
    strip: Strip, mine: Ints, touch: _Touch, places: np.ndarray
) -> tuple[Ints, Floats, Floats]:
    """Branches between all contacts of a strip that follows no line."""
    from .sheet import conductances, squares_between  # late: few cards have such strips

    between = conductances(squares_between(strip.geometry, list(places[touch.contact[mine]])))
    a, b = np.triu_indices(len(mine), 1)
    values = between[a, b]
    real = np.abs(values) > 1e-9 * np.abs(values).max(initial=0.0)
    a, b, values = a[real], b[real], values[real]
    ends = np.stack([touch.node[mine[a]], touch.node[mine[b]]], axis=1)
    return ends, values, strip.width / np.maximum(values, 1e-9)
