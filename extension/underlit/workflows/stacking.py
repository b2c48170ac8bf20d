"""The `stack` key of the report: foam, thickness and post of a card, as a note."""

from __future__ import annotations

from ..language import mm, say
from ..model.case import Case
from ..profiles import Profile
from ..rules.wording import layers as in_layers
from ..stack import Planned, classes_for, needed_spacer, planned


def stack_report(case: Case) -> dict[str, object] | None:
    """Lengths in mm to 0.001; None where no light or battery says how high the panel lies."""
    profile = case.profile
    plan = planned(case.card, profile)
    tall, layers, made = plan.tall, plan.layers, plan.made
    if tall is None:
        return None
    classes = classes_for(made, profile)
    return {
        "tallest": {"id": tall.part.id, "height": round(tall.height, 3)},
        "needed_spacer": round(needed_spacer(tall.height, profile), 3),
        "foam": None if layers is None else list(layers.foams),
        "spacer": round(plan.spacer, 3),
        "travel": None if layers is None or layers.travel is None else round(layers.travel, 3),
        "flat": round(made.flat, 3),
        "thickest": round(made.thickest, 3),
        "flat_in_envelope": round(made.flat + made.envelope, 3),
        "thickest_in_envelope": round(made.thickest + made.envelope, 3),
        "post": [
            {
                "name": name,
                "thickness": profile.post[name].thickness,
                "source": profile.post[name].source,
                "checked": profile.post[name].checked,
            }
            for name in classes
        ],
        "note": _note(plan, classes, profile),
    }


def depth_words(case: Case) -> str:
    """Foam and closed thickness in one line; "" where nothing says how high the panel lies."""
    plan = planned(case.card, case.profile)
    if plan.tall is None:
        return ""
    layers, made = plan.layers, plan.made
    if layers is not None and layers.thickness == plan.spacer:
        foams = in_layers(layers.foams, case.profile)
    else:
        foams = mm(plan.spacer)
    return say(
        "Depth: with foam of {foam} the closed card is {thick} thick, {envelope} in its envelope.",
        foam=foams,
        thick=mm(made.thickest),
        envelope=mm(made.thickest + made.envelope),
    )


def _note(plan: Planned, classes: tuple[str, ...], profile: Profile) -> str:
    made = plan.made
    fits = "; ".join(
        say(
            "{letter} ({thickness}; {source}, checked {day})",
            letter=name,
            thickness=mm(profile.post[name].thickness),
            source=profile.post[name].source,
            day=profile.post[name].checked,
        )
        for name in classes
    )
    return say(
        "With {foam} of foam the card is {flat} thick where it is flat and {thick} at its "
        "thickest, in its envelope {flat_sent} and {thick_sent}. By size it fits: {letters}. "
        "Weight is not checked. Check with your post office.",
        foam=mm(plan.spacer),
        flat=mm(made.flat),
        thick=mm(made.thickest),
        flat_sent=mm(made.flat + made.envelope),
        thick_sent=mm(made.thickest + made.envelope),
        letters=fits or say("no letter that I know"),
    )
