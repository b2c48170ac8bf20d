"""Place lights under the openings that the maker chose."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from ..glow.sources import depth_of
from ..interpretation.card import read_card
from ..language import later, say
from ..markup.findings import findings_sheet
from ..markup.primitives import Sheet, Text
from ..model.card import Card, Opening
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..placement.lights import (
    Placed,
    Placement,
    Unlit,
    Wish,
    choose,
    lambertian,
    place_lights,
    read_count,
    read_numbers,
    read_place,
    read_turn,
)
from ..profiles import LightType, Profile
from ..records import record
from ..rules import in_order
from ..stack import panel_height
from .lighting import (
    battery_words,
    covering,
    fed_by,
    ground_of,
    hidden_by,
    kind_of,
    lit_openings,
    names_for,
    open_parts,
    part_of,
    shining,
    without,
)
from .lighting_words import closing_words, done_words, finding_of, in_one, nothing_to_light
from .part_areas import angle_of
from .preparing import summary_words
from .report import build_report, rounded
from .validate import extent_of, make_case
from .windows import window_numbers

HEADING = later("Windows that stay dark")
ADVICE = later(
    "The other windows that you chose have their light. Mend what is said here, then run the same "
    "step again."
)


@record
class Order:
    """What the maker asked for, as text of the options.

    `ids` are windows by name; `made` are lights that the tool made and may take away, those of them
    in `locked` keep their angle; `taken` are all ids of the drawing.
    """

    ids: tuple[str, ...] = ()
    numbers: str = ""
    places: tuple[str, ...] = ()
    kind: str = ""
    count: str = "auto"
    turn: str = "free"
    replace: bool = False
    made: frozenset[str] = frozenset()
    locked: frozenset[str] = frozenset()
    taken: frozenset[str] = frozenset()


@record
class NewLight:
    """A light to be drawn: its id, its place, its type; `locked`: routing may not turn it."""

    name: str
    at: tuple[float, float]
    angle: float
    type: str
    figure: LightType
    locked: bool


@record
class Lighting:
    """What placing lights gives: lights to draw (page mm), ids of lights to take away.

    `sheet` goes on the Findings layer; None: nothing new to say there. `numbers` are those of the
    windows by name, where no light hides them.
    """

    report: dict[str, object]
    sheet: Sheet | None
    drawn: tuple[NewLight, ...]
    removed: tuple[str, ...]
    numbers: tuple[tuple[str, Text], ...]
    select: tuple[str, ...]
    summary: str
    message: str


def place(drawing: Drawing, profile: Profile, order: Order) -> Lighting:
    """Place lights on a card. Raises UnknownChoice for a choice that does not exist."""
    kind = kind_of(order.kind.strip(), profile)
    lights, turn = read_count(order.count), read_turn(order.turn)
    wanted = read_numbers(order.numbers) if order.numbers.strip() else ()
    places = tuple(read_place(text) for text in order.places)
    reading = read_card(drawing, profile.tape.corners)
    card = reading.card
    chosen: tuple[Opening, ...] = ()
    if card.openings or order.ids or wanted or places:
        chosen = choose(card.openings, order.ids, wanted, places)
    removed = _replaced(card, chosen, order) if order.replace else ()
    kept = without(card, removed)
    shine = lit_openings(kept)
    wish = Wish(
        kind,
        profile.lights[kind],
        lights,
        turn,
        fed_by(kept, profile, profile.lights[kind]) if lights is None else None,
        _locked(card, set(removed) & order.locked),
    )
    placement = _find(kept, [o for o in chosen if o.name not in shine], wish, profile)
    already = tuple(opening for opening in chosen if opening.name in shine)
    names = names_for(placement.lights, order.taken - set(removed))
    parts = tuple(
        part_of(light, name, wish.light, len(kept.lights) + i)
        for i, (light, name) in enumerate(zip(placement.lights, names, strict=True))
    )
    after = replace(kept, lights=kept.lights + parts)
    case = make_case(drawing, replace(reading, card=after), profile)
    findings = in_order(_findings(card, placement, len(after.lights)))
    told = in_one(findings, placement, len(after.lights))
    battery = battery_words(kept, profile, placement.most or 0)
    words = closing_words(placement, already, removed, told, battery)
    done = done_words(placement, already, removed, battery)
    report = build_report("place_lights", drawing.name, case, findings, (), None)
    report["placement"] = _figures(placement, names, wish, already, removed)
    return Lighting(
        report=report,
        sheet=_sheet(drawing, told),
        drawn=tuple(
            _new(light, name, wish) for light, name in zip(placement.lights, names, strict=True)
        ),
        removed=removed,
        numbers=window_numbers(after),
        select=tuple(names),
        summary=summary_words("\n".join(done), told),
        message=words,
    )


def _sheet(drawing: Drawing, findings: Sequence[Finding]) -> Sheet | None:
    """Marks of windows that stay dark, beside the page in words."""
    if not any(finding.at is not None for finding in findings):
        return None
    extent, verdict = extent_of(drawing), "ready-with-cautions"
    return findings_sheet(drawing.page, extent, findings, (), say(ADVICE), verdict, say(HEADING))


def _find(card: Card, openings: Sequence[Opening], wish: Wish, profile: Profile) -> Placement:
    light = wish.light
    found = place_lights(
        open_parts(card, openings),
        ground_of(card, profile),
        wish,
        profile.limits,
        profile.tape.width,
        lambertian(depth_of(light, profile, panel_height(card, profile)), light.beam_angle),
    )
    drawn = {opening.name: opening for opening in openings}
    told = tuple(hidden_by(one, drawn[one.opening], card, light.lens) for one in found.unlit)
    return replace(found, unlit=told)


def _replaced(card: Card, chosen: Sequence[Opening], order: Order) -> tuple[str, ...]:
    """Lights of the tool that shine in the chosen windows; with all chosen also the stray ones."""
    names = {opening.name for opening in chosen}
    over = shining(card)
    mine = {light.id for light in card.lights} & order.made
    found = {light for light, opening in over if light in mine and opening in names}
    if not (order.ids or order.numbers.strip() or order.places):
        found |= mine - {light for light, _ in over}
    return tuple(sorted(found))


def _locked(card: Card, lights: Collection[str]) -> dict[str, float]:
    """Angles that windows keep: that of the first locked light which is taken away there."""
    angles = {light.id: angle_of(light) for light in card.lights if light.id in lights}
    found: dict[str, float] = {}
    for name, opening in shining(card):
        if name in angles:
            found.setdefault(opening, round(angles[name], 3) % 360.0)
    return found


def _new(light: Placed, name: str, wish: Wish) -> NewLight:
    locked = light.opening in wish.locked
    return NewLight(name, light.at, light.angle_deg, light.kind, wish.light, locked)


def _findings(card: Card, placement: Placement, lights: int) -> list[Finding]:
    if not card.openings:
        return [nothing_to_light(card)]
    by_number = {opening.name: opening.number for opening in card.openings}
    by_name = {opening.name: opening for opening in card.openings}
    return [
        finding_of(one, by_number, lights, _over(one, by_name[one.opening], card))
        for one in placement.unlit
    ]


def _over(one: Unlit, opening: Opening, card: Card) -> tuple[str, ...]:
    """Ids of what covers an opening, where that is why it stays dark."""
    return covering(opening, card) if one.reason == "covered" else ()


def _figures(
    placement: Placement,
    names: Sequence[str],
    wish: Wish,
    already: Sequence[Opening],
    removed: Sequence[str],
) -> dict[str, object]:
    """The key `placement` of the report."""
    return {
        "type": wish.kind,
        "count": "auto" if wish.count is None else wish.count,
        "turn": wish.turn,
        "battery_feeds": wish.most,
        "proposed": placement.proposed,
        "lights": [
            _light(light, name) for light, name in zip(placement.lights, names, strict=True)
        ],
        "unlit": [_unlit(one) for one in placement.unlit],
        "already_lit": [opening.name for opening in already],
        "removed": list(removed),
    }


def _light(light: Placed, name: str) -> Mapping[str, object]:
    return {
        "id": name,
        "type": light.kind,
        "at": [rounded(light.at[0]), rounded(light.at[1])],
        "angle": rounded(light.angle_deg),
        "opening": light.opening,
        "number": light.number,
        "clearance": rounded(light.clearance),
        "visible": rounded(light.visible),
        "room": light.room,
        "across_tape": light.across,
    }


def _unlit(one: Unlit) -> Mapping[str, object]:
    return {
        "opening": one.opening,
        "number": one.number,
        "at": [rounded(one.at[0]), rounded(one.at[1])],
        "reason": one.reason,
        "measured": rounded(one.measured),
        "needed": rounded(one.needed),
        "in_the_way": one.blocker,
        **({} if one.because is None else {"because": _unlit(one.because)}),
    }
