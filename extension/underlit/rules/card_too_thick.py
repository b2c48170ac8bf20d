"""card-too-thick: the card in its envelope is thicker than the letter that its maker named.

Only where the settings name a class of post, `{"stack": {"post": "uk-letter"}}`. Limits are
published ones (table `post` of the profile, with source and date): ask your post office. Four
sheets of card are counted (folded card, back sheet, panel), an envelope, and the foam that the
report's `stack` names, new. The cure is computed: less foam that still clears the tallest part, a
thinner battery of the same width that still lights everything for long enough, or a bare one.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..language import begun, mm, say
from ..model.case import Case
from ..model.finding import Finding
from ..model.operation import Change
from ..stack import Thinner, classes_for, planned, thinner
from ..units import TOLERANCE
from .curing.states import State
from .wording import layers

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
        say(
            "The card is {thick} thick in its envelope, more than the {limit} of {post}. Where it "
            "is flat it is {flat}; without the envelope {envelope} less.",
            thick=mm(thick),
            limit=mm(limit),
            post=profile.stack.post,
            flat=mm(made.flat + made.envelope),
            envelope=mm(made.envelope),
        ),
        _cure(case, plan.spacer, limit, classes_for(made, profile)),
    )


def _cure(case: Case, spacer: float, limit: float, classes: tuple[str, ...]) -> str:
    """The first two ways that bring the card under the limit, and the larger letter."""
    ways: dict[tuple[str | None, bool], Thinner] = {}
    for way in thinner(case.card, case.profile):
        if way.thick <= limit + TOLERANCE and _works(case, way):
            ways.setdefault((way.cell, way.bare), way)
    words = [_way(case, way, spacer) for way in list(ways.values())[:2]]
    larger = _larger(case, classes)
    if not words:
        return say(
            "No thinner battery or foam of yours brings it under that: pay {larger}; check with "
            "your post office.",
            larger=larger,
        )
    if len(words) == 1:
        return say(
            "{way}; or pay {larger}; check with your post office.",
            way=begun(words[0]),
            larger=larger,
        )
    return say(
        "{way}, or {other}; or pay {larger}; check with your post office.",
        way=begun(words[0]),
        other=words[1],
        larger=larger,
    )


def _larger(case: Case, classes: tuple[str, ...]) -> str:
    """The larger letter: of the same post if it has one."""
    own = case.profile.stack.post.split("-")[0]  # uk-letter: the same post's larger ones first
    near = sorted(classes, key=lambda name: not name.startswith(own))
    if not near:
        return say("the larger size")
    return say("the larger size ({post} by its size)", post=near[0])


def _way(case: Case, way: Thinner, spacer: float) -> str:
    words = {
        "foam": layers(way.layers.foams, case.profile),
        "spacer": mm(spacer),
        "thick": mm(way.thick),
    }
    if way.cell is None:
        return say(
            "lay foam of {foam} instead of {spacer}: it still clears, and the card is {thick} "
            "thick",
            **words,
        )
    words["battery"] = way.cell.upper()
    if way.bare:
        return say(
            "take a bare {battery} and foam of {foam} instead of {spacer}: {thick} thick", **words
        )
    return say("take a {battery} and foam of {foam} instead of {spacer}: {thick} thick", **words)


def _works(case: Case, way: Thinner) -> bool:
    """Whether no electrical rule finds more to say about the card with this battery."""
    if way.cell is None or case.supply is None or case.operation is None:
        return True
    start = State(case, Change())
    return not start.then(Change(cells=way.cell)).worse_than(start)
