"""card-too-thick: the card in its envelope is thicker than the letter that its maker named.

Only where the settings name a class of post, `{"stack": {"post": "uk-letter"}}`. Limits are
published ones (table `post` of the profile, with source and date): ask your post office. Four
sheets of card are counted (folded card, back sheet, panel), new foam, and an envelope.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..model.case import Case
from ..model.finding import Finding
from ..stack import closed, tallest
from ..units import TOLERANCE
from .wording import mm

CODE = "card-too-thick"


def check(case: Case) -> Iterator[Finding]:
    """One finding per card."""
    profile = case.profile
    if not profile.stack.post:
        return
    tall = tallest(case.card, profile)
    height = 0.0 if tall is None else tall.height
    made = closed(case.card, profile, profile.stack.spacer, height)
    thick, limit = made.thickest + made.envelope, profile.post[profile.stack.post].thickness
    if thick <= limit + TOLERANCE:
        return
    yield Finding(
        CODE,
        "caution",
        None,
        (),
        f"The card is {mm(thick)} thick in its envelope, more than the {mm(limit)} of "
        f"{profile.stack.post}.",
        "Take a thinner battery and one layer of foam less, or pay the larger size; check with "
        "your post office.",
    )
