"""The `stack` key of the report: foam, thickness and post of a card, as a note."""

from __future__ import annotations

from ..model.case import Case
from ..rules.wording import mm
from ..stack import cheapest, classes_for, closed, needed_spacer, pressed_height, tallest


def stack_report(case: Case) -> dict[str, object] | None:
    """Lengths in mm to 0.001; None where no light or battery says how high the panel lies."""
    profile = case.profile
    tall = tallest(case.card, profile)
    if tall is None:
        return None
    layers = cheapest(tall.height, pressed_height(case.card, profile), profile)
    spacer = profile.stack.spacer if layers is None else layers.thickness
    made = closed(case.card, profile, spacer, tall.height)
    classes = classes_for(made, profile)
    return {
        "tallest": {"id": tall.part.id, "height": round(tall.height, 3)},
        "needed_spacer": round(needed_spacer(tall.height, profile), 3),
        "foam": None if layers is None else list(layers.foams),
        "spacer": round(spacer, 3),
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
        "note": f"With {mm(spacer)} of foam the card is {mm(made.thickest + made.envelope)} thick "
        f"in its envelope. By size it fits {', '.join(classes) or 'none of the letters known'}; "
        "weight is not checked. Check with your post office.",
    }
