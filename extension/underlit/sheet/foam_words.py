"""The step of the foam in words: kind, layers and height, from the stack of the report."""

from __future__ import annotations

from .scene import Scene, Spacer
from .wording import count, short

NUMBERS = {1: "one layer", 2: "two layers", 3: "three layers"}


def foam_words(scene: Scene) -> tuple[str, ...]:
    """What to stick, how high it gets, and what it must clear."""
    pads, stack = count(scene.foam_pads, "piece", "pieces"), scene.stack
    keep = "Keep it off lights and off the spot to press."
    if stack is None:
        return (f"{pads} of foam.", keep)
    if stack.layers:
        first = f"{pads}, each {_layers(stack)}: {short(stack.thickness)} mm high."
    else:
        first = f"{pads} of foam {short(stack.thickness)} mm high."
    over = f"It settles to {short(stack.settled)} mm; {stack.over} stands {short(stack.height)} mm."
    travel = "" if stack.travel is None else f" A press goes down {short(stack.travel)} mm."
    return (first, over + travel, keep)


def no_foam_words(scene: Scene) -> tuple[str, ...]:
    """What a card without foam needs under its front; nothing where foam is drawn."""
    stack = scene.stack
    if stack is None or not scene.foam.is_empty:
        return ()
    how = _layers(stack) if stack.layers else f"foam {short(stack.thickness)} mm high"
    return (
        f"No foam is drawn. To clear {stack.over} ({short(stack.height)} mm high) it takes "
        f"{how.removeprefix('of ')}; the entry Lay the foam draws it.",
    )


def _layers(stack: Spacer) -> str:
    """two layers of 3 mm foam, one on the other."""
    number = len(stack.layers)
    on = ", one on the other" if number > 1 else ""
    if len(set(stack.layers)) == 1:
        words = NUMBERS.get(number, f"{number} layers")
        return f"{words} of {short(stack.layers[0])} mm foam{on}"
    return f"of foam {' + '.join(f'{short(one)} mm' for one in stack.layers)}{on}"
