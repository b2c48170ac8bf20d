"""The spot to press, as the reader of the card sees it."""

from __future__ import annotations

from ..records import record
from ..sheet.closing import hand_of
from ..sheet.scene import Scene

#: Ways that last only as long as the hand is on them; any other stays until it is undone.
HELD = frozenset({"press", "flap"})


@record
class Spot:
    """The place to press (page mm, from the front), and how: a word of `underlit:closes`."""

    at: tuple[float, float]
    way: str

    @property
    def always(self) -> bool:
        """Whether the card shines without any hand."""
        return self.way == "always"

    @property
    def held(self) -> bool:
        """Whether the card goes dark when it is let go."""
        return self.way in HELD


def spot_of(scene: Scene) -> Spot | None:
    """What is pressed, pushed or pulled; None without a battery."""
    hand = hand_of(scene)
    if hand is None:
        return None
    x, y = hand.at
    left, _, right, _ = scene.base.bounds
    return Spot((left + right - x if scene.back else x, y), hand.way)
