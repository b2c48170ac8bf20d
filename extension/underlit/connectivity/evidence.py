"""What says that a conductor is meant to be plus or minus."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..model.circuit import SIGN, Conductor


def cell_sign(conductor: Conductor) -> str | None:
    """positive | negative of a cell's pad, else None."""
    if conductor.part is not None and conductor.part.kind == "cell":
        return SIGN[str(conductor.pad)]
    return None


def weak_sign(conductor: Conductor) -> str | None:
    """What a label or a light's pad hints at, else None."""
    if conductor.strip is not None:
        return conductor.strip.polarity
    if conductor.part is not None and conductor.part.kind == "light":
        return SIGN[str(conductor.pad)]
    return None


def cell_signs(conductors: Sequence[Conductor], group: Iterable[int]) -> set[str]:
    """The signs of the cell pads in a group of conductors."""
    return {sign for i in group if (sign := cell_sign(conductors[i])) is not None}


def labels(conductors: Sequence[Conductor], group: Iterable[int]) -> set[str]:
    """The polarities that strips in a group are labelled with."""
    found = (c.strip.polarity for i in group if (c := conductors[i]).strip is not None)
    return {sign for sign in found if sign is not None}
