"""Preview: how the lit card will glow, as a picture over the panel and as figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..glow.field import illuminance
from ..glow.figures import window_glow
from ..glow.panes import layers_of
from ..glow.picture import Picture, lit_card
from ..glow.png import png_bytes
from ..glow.sources import Sources, sources_of, within_reach
from ..glow.unevenness import uneven_glow
from ..interpretation.card import read_card
from ..language import say
from ..model.case import Case
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..model.glow import WindowGlow
from ..profiles import Profile
from ..records import record
from ..rules import check_some, in_order
from ..rules.layer_missing import missing
from .glowing import closing_words, glow_report
from .preparing import summary_words
from .report import build_report
from .validate import make_case

#: Rules that have something to say of how a card glows.
CODES = (
    "part-incomplete",
    "light-off-opening",
    "object-skipped",
    "glow-uneven",
    "outside-panel",
)


@record
class Wish:
    """What the maker asked for.

    `depth`: mm from every lens to the panel (None: by the profile). `current_ma`: of every light
    (None: `currents`, light id -> mA, then what is computed, then the typical current).
    `probes`: places (page mm).
    `all_lit`: as if every light burned, whatever the tape says; so it is where battery or tape are
    still missing, and where a current is given for all lights.
    """

    depth: float | None = None
    current_ma: float | None = None
    probes: tuple[tuple[float, float], ...] = ()
    all_lit: bool = False
    currents: Mapping[str, float] | None = None


@record
class Preview:
    """What previewing a drawing gives. `picture` and its file `png`: None where none is drawn."""

    report: dict[str, object]
    picture: Picture | None
    png: bytes | None
    select: tuple[str, ...]
    summary: str
    message: str


def preview(drawing: Drawing, profile: Profile, wish: Wish) -> Preview:
    """Compute the glow of a card; nothing is drawn without a light or without a panel."""
    case = make_case(drawing, read_card(drawing, profile.tape.corners), profile)
    sources = sources_for(case, wish)
    case = replace(case, shine=lambda own: uneven_glow(own, sources))
    findings = in_order([*_lacking(case), *check_some(case, CODES)])
    drawn = bool(case.card.lights and case.card.panels)
    picture = lit_card(case.card, sources, profile) if drawn else None
    windows = _windows(case, sources)
    report = build_report("preview", drawing.name, case, findings, (), None)
    report["glow"] = glow_report(case, sources, windows, _probed(wish.probes, sources), picture)
    words = closing_words(case, sources, windows, findings, picture)
    told = [] if picture is not None else [f for f in findings if f.severity == "stop"][:1]
    return Preview(
        report=report,
        picture=picture,
        png=None if picture is None else png_bytes(picture.pixels, picture.mm_per_pixel),
        select=(),
        summary=summary_words(words, findings, told),
        message=words,
    )


def sources_for(case: Case, wish: Wish) -> Sources:
    """The lights that burn at the moment of pressing, with their currents."""
    lights = case.card.lights
    lit = [light.id for light in lights] if as_if(case, wish) else case.lit
    currents = {**case.pressed_ma, **(wish.currents or {})}
    if wish.current_ma is not None:
        currents = {light.id: wish.current_ma for light in lights}
    return sources_of(case.card, lit, case.profile, wish.depth, currents)


def as_if(case: Case, wish: Wish) -> bool:
    """Whether every light counts as burning: asked for, a current given, or no circuit yet."""
    started = bool(case.card.cells and case.card.strips)
    return wish.all_lit or wish.current_ma is not None or not started


def _lacking(case: Case) -> list[Finding]:
    """What a picture of the glow cannot do without."""
    found = list(missing(case, "base", "lights"))
    if not case.card.panels and not _told(case):
        words = say("There is no panel to show the glow on.")
        remedy = say("Draw its outline on Die cut.")
        found.append(Finding("layer-missing", "stop", None, (), words, remedy))
    return found


def _told(case: Case) -> bool:
    """Whether a layer for a panel is missing, and said to be."""
    layers = {layer.role for layer in case.facts.layers}
    return case.card.base.is_empty and layers.isdisjoint({"base", "die-cut"})


def _windows(case: Case, sources: Sources) -> tuple[WindowGlow, ...]:
    card, layers = case.card, layers_of(case.card, case.profile)
    return tuple(
        window_glow(card, i, within_reach(opening.clear.bounds, sources), layers)
        for i, opening in enumerate(card.openings)
    )


def _probed(
    places: Sequence[tuple[float, float]], sources: Sources
) -> list[tuple[tuple[float, float], float]]:
    """Each place with its lux on the panel's plane, before any diffuser."""
    found = illuminance(np.array(places, dtype=float).reshape(-1, 2), sources)
    return [(place, float(lux)) for place, lux in zip(places, found, strict=True)]
