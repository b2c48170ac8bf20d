"""opening-not-lit: placing lights, a window that was asked for and cannot be lit.

Told by placing lights, not by validating: which window, what was measured against what is
needed, and what would help. The other windows get their lights all the same.
"""

from __future__ import annotations

from ..model.finding import Finding

CODE = "opening-not-lit"


def finding(
    at: tuple[float, float] | None, objects: tuple[str, ...], message: str, remedy: str
) -> Finding:
    """The finding of one window."""
    return Finding(CODE, "caution", at, objects, message, remedy)
