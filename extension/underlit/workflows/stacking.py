"""The `stack` key of the report: foam, thickness and post of a card, as a note."""

from __future__ import annotations

from ..model.case import Case
from ..profiles import Profile
from ..rules.wording import layers as in_layers
from ..rules.wording import mm
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
    return (
        f"Depth: with foam of {foams} the closed card is {mm(made.thickest)} thick, "
        f"{mm(made.thickest + made.envelope)} in its envelope."
    )


def _note(plan: Planned, classes: tuple[str, ...], profile: Profile) -> str:
    made = plan.made
    fits = "; ".join(
        f"{name} ({mm(profile.post[name].thickness)}; {profile.post[name].source}, checked "
        f"{profile.post[name].checked})"
        for name in classes
    )
    return (
        f"With {mm(plan.spacer)} of foam the card is {mm(made.flat)} thick where it is flat and "
        f"{mm(made.thickest)} at its thickest, in its envelope {mm(made.flat + made.envelope)} and "
        f"{mm(made.thickest + made.envelope)}. By size it fits: {fits or 'no letter that I know'}. "
        "Weight is not checked. Check with your post office."
    )
