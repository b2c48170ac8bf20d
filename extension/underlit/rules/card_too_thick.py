"""card-too-thick: the card in its envelope is thicker than the letter that its maker named.

Only where the settings name a class of post, `{"stack": {"post": "uk-letter"}}`. Limits are
published ones (table `post` of the profile, with source and date): ask your post office. Four
sheets of card are counted (folded card, back sheet, panel), an envelope, and the foam that the
report's `stack` names, new. The cure is computed: less foam that still clears the tallest part, a
thinner battery of the same width that still lights everything for long enough, or a bare one.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import Change
from ..stack import Thinner, classes_for, planned, thinner
from ..units import TOLERANCE
from .curing.states import State
from .wording import layers, mm

CODE = "card-too-thick"


def check(case: Case) -> Iterator[Finding]:
    """One finding per card."""
    profile = case.profile
    if not profile.stack.post:
        return
    plan = planned(case.card, profile)
    made, limit = plan.made, profile.post[profile.stack.post].thickness
    thick = made.thickest + made.envelope
    if thick <= limit + TOLERANCE:
        return
    yield Finding(
        CODE,
        "caution",
        None,
        (),
        f"The card is {mm(thick)} thick in its envelope, more than the {mm(limit)} of "
        f"{profile.stack.post}. Where it is flat it is {mm(made.flat + made.envelope)}; without "
        f"the envelope {mm(made.envelope)} less.",
        _cure(case, plan.spacer, limit, classes_for(made, profile)),
    )


def _cure(case: Case, spacer: float, limit: float, classes: tuple[str, ...]) -> str:
    """The first two ways that bring the card under the limit, and the larger letter."""
    ways: dict[tuple[str | None, bool], Thinner] = {}
    for way in thinner(case.card, case.profile):
        if way.thick <= limit + TOLERANCE and _works(case, way):
            ways.setdefault((way.cell, way.bare), way)
    words = [_way(case, way, spacer) for way in list(ways.values())[:2]]
    if words:
        text = ", or ".join(words)
        text = f"{text[0].upper()}{text[1:]}; or pay"
    else:
        text = "No thinner battery or foam of yours brings it under that: pay"
    own = case.profile.stack.post.split("-")[0]  # uk-letter: the same post's larger ones first
    near = sorted(classes, key=lambda name: not name.startswith(own))
    larger = f"the larger size ({near[0]} by its size)" if near else "the larger size"
    return f"{text} {larger}; check with your post office."


def _way(case: Case, way: Thinner, spacer: float) -> str:
    less = f"foam of {layers(way.layers.foams, case.profile)} instead of {mm(spacer)}"
    if way.cell is None:
        return f"lay {less}: it still clears, and the card is {mm(way.thick)} thick"
    bare = "bare " if way.bare else ""
    return f"take a {bare}{way.cell.upper()} and {less}: {mm(way.thick)} thick"


def _works(case: Case, way: Thinner) -> bool:
    """Whether no electrical rule finds more to say about the card with this battery."""
    if way.cell is None or case.supply is None or case.operation is None:
        return True
    start = State(case, Change())
    return not start.then(Change(cells=way.cell)).worse_than(start)
