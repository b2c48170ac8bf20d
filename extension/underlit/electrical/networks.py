"""Resistances, lights and cells put into a card's wiring, for all states side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ..model.card import PADS, Card, Part, ohms_of
from ..model.circuit import Circuit
from ..model.operation import Change, Feed, Foot
from ..profiles import CellType, LightType, Profile
from ..records import record
from .elimination import Floats, Ints
from .operating import Network
from .parts import Diodes, thermal_volt
from .wiring import JOINT, PAD, Wiring

#: Lights of one bag differ by so much in forward voltage, either way (V).
SCATTER = 0.1

#: States: pressed, after a minute, aged; then after a minute with a bag of lights that all
#: need more, and less. Which of a cell's resistances counts, whether overlaps and feet are
#: aged, and how much more the lights need.
CELL_STATE = (0, 1, 2, 1, 1)
CONTACTS_AGED = np.array([False, False, True, False, False])
SHIFT = np.array([0.0, 0.0, 0.0, SCATTER, -SCATTER])
STATES = len(SHIFT)


#: Saturation current of a light that is off (A).
NOTHING = 1e-300


@record
class Loaded:
    """A network, and the parts that are its lights and cells, in order."""

    network: Network
    lights: tuple[Part, ...]
    cells: tuple[Part, ...]


def load(wiring: Wiring, card: Card, circuit: Circuit, profile: Profile, change: Change) -> Loaded:
    """The network of a card under a change."""
    lights, cells = _parts(card, profile, change)
    if change.released:
        cells = tuple(p for p in cells if p.id in circuit.always)
    ends, siemens = _resistors(wiring, card, circuit, profile, change)
    types = [profile.lights[p.type] for p in lights]
    volt, ohm = _cells([profile.cells[p.type] for p in cells])
    more = np.array([change.resistors.get(p.id, 0.0) for p in lights])
    if change.stiff:
        more = -np.array([t.resistor_ohm for t in types])
    network = Network(
        nodes=wiring.nodes,
        ends=ends,
        siemens=siemens,
        lights=_pads(wiring, lights, change.beside),
        diodes=diodes(types, more, SHIFT),
        cells=_pads(wiring, cells, {}),
        volt=volt,
        ohm=ohm * 0.0 if change.stiff else ohm,
    )
    return Loaded(network, lights, cells)


def _parts(
    card: Card, profile: Profile, change: Change
) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Lights and cells of known types, as they are after a change."""
    lights = (
        replace(p, type=change.types[p.id]) if p.id in change.types else p
        for p in card.lights
        if p.id not in change.without
    )
    cells = (replace(p, type=change.cells) if change.cells else p for p in card.cells)
    return (
        tuple(p for p in lights if p.type in profile.lights),
        tuple(p for p in cells if p.type in profile.cells),
    )


def switched_off(network: Network, off: NDArray[np.bool_]) -> Network:
    """The same with some lights (l, S) passing nothing in some states."""
    own = network.diodes
    none = np.where(off, NOTHING, own.saturation)
    return replace(network, diodes=Diodes(none, own.slope, own.ohm))


def diodes(types: Sequence[LightType], more: Floats, shift: Floats) -> Diodes:
    """Diodes (l, S) of lights with `more` (l,) ohms in series; forward voltage `shift` (S,) up."""
    slope = np.array([[t.ideality * thermal_volt(t.temperature_c)] for t in types]).reshape(-1, 1)
    own = np.array([[t.series_ohm + t.resistor_ohm] for t in types]).reshape(-1, 1)
    saturation = np.array([[t.saturation_current_a] for t in types]).reshape(-1, 1)
    shape = (len(types), len(shift))
    return Diodes(
        saturation=saturation * np.exp(-shift / slope),
        slope=np.broadcast_to(slope, shape),
        ohm=np.broadcast_to(own + more[:, None], shape),
    )


def _cells(types: Sequence[CellType]) -> tuple[Floats, Floats]:
    volt = np.array([[t.volt] * STATES for t in types]).reshape(-1, STATES)
    ohms = [[t.pulse_ohm, t.sustained_ohm, t.aged_ohm] for t in types]
    return volt, np.array(ohms).reshape(-1, 3)[:, CELL_STATE]


def _pads(wiring: Wiring, parts: Sequence[Part], beside: Mapping[str, tuple[Foot, Foot]]) -> Ints:
    """(k, 2) nodes of the two pads of parts, plus first; some are moved beside others."""
    feet = (beside.get(p.id) or [(p.id, pad) for pad in PADS[p.kind]] for p in parts)
    nodes = [[wiring.pad_node[foot] for foot in both] for both in feet]
    return np.array(nodes, dtype=np.intp).reshape(-1, 2)


def _resistors(
    wiring: Wiring, card: Card, circuit: Circuit, profile: Profile, change: Change
) -> tuple[Ints, Floats]:
    """Everything that is no light and no cell: ends (m, 2) and conductances (m, S)."""
    opened = {i for short in circuit.shorts for i in short.contacts}
    live = np.array([change.drawn or i not in opened for i in wiring.contact.tolist()], dtype=bool)
    for feed in change.feeds:
        live = live & (wiring.contacts[:, 0] != wiring.pad_node[feed.cell, feed.pad])
    sheet = 0.0 if change.stiff else profile.tape.ohms_per_square * change.tape
    ends = [wiring.tape, wiring.contacts[live]]
    with np.errstate(divide="ignore", invalid="ignore"):
        tape = np.where(sheet > 0.0, wiring.per_square / sheet, np.inf)
        joints = 1.0 / _contact_ohms(wiring, profile, change)[live]
    siemens = [np.repeat(tape[:, None], STATES, axis=1), joints]
    others = _others(wiring, card, change)
    others += [_led_round(wiring, profile, change, feed) for feed in change.feeds]
    for a, b, ohm in others:
        ends.append(np.array([[a, b]], dtype=np.intp))
        with np.errstate(divide="ignore"):
            siemens.append(1.0 / np.broadcast_to(ohm, (1, STATES)))
    return np.concatenate(ends), np.concatenate(siemens)


def _contact_ohms(wiring: Wiring, profile: Profile, change: Change) -> Floats:
    """(c, S) resistance over area, less what the overlap shares with the tape; never below 0."""
    tape = profile.tape
    joint = np.where(CONTACTS_AGED, tape.joint_aged_ohm_mm2, tape.joint_ohm_mm2)
    fresh = np.full(STATES, tape.joint_ohm_mm2)
    pad = np.where(CONTACTS_AGED, tape.pad_aged_ohm_mm2, tape.pad_ohm_mm2)
    kind = wiring.kind[:, None]
    per_mm2 = np.where(kind == PAD, pad, np.where(kind == JOINT, joint, fresh) * change.joints)
    area = wiring.area
    if change.mended:
        limits = profile.limits
        least = np.minimum(limits.pad_cover * wiring.foot, limits.joint_cover * wiring.square)
        area = np.maximum(area, least)
    shared = wiring.less * tape.ohms_per_square * change.tape
    ohms = np.maximum(per_mm2 / area[:, None] - shared[:, None], 0.0)
    ohms[np.isin(wiring.contact, sorted(change.whole))] = 0.0
    return ohms * 0.0 if change.stiff else ohms


def _others(wiring: Wiring, card: Card, change: Change) -> list[tuple[int, int, Floats]]:
    """Switches that are closed and resistors with ohms."""
    found = []
    for part in card.switches if not change.released else ():
        found.append((*_ends(wiring, part), np.zeros(STATES)))
    for part in card.resistors:
        ohm = change.ohms.get(part.id, ohms_of(part))
        if ohm is not None:
            found.append((*_ends(wiring, part), np.full(STATES, ohm)))
    return found


def _led_round(
    wiring: Wiring, profile: Profile, change: Change, feed: Feed
) -> tuple[int, int, Floats]:
    """A new strip from a cell's pad to the tape at a light's foot: foot, strip, overlap."""
    tape, square = profile.tape, feed.width**2
    pads = wiring.pad_node[feed.cell, feed.pad], wiring.pad_node[feed.light, feed.pad]
    rows = np.flatnonzero(wiring.contacts[:, 0] == pads[1])
    foot = np.where(CONTACTS_AGED, tape.pad_aged_ohm_mm2, tape.pad_ohm_mm2) / square
    joint = np.where(CONTACTS_AGED, tape.joint_aged_ohm_mm2, tape.joint_ohm_mm2) / square
    ohm = foot + joint * change.joints + feed.squares * tape.ohms_per_square * change.tape
    return pads[0], int(wiring.contacts[rows[0], 1]), ohm * (0.0 if change.stiff else 1.0)


def _ends(wiring: Wiring, part: Part) -> tuple[int, int]:
    first, second = (wiring.pad_node[part.id, pad] for pad in PADS[part.kind])
    return first, second
