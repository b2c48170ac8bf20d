"""The step of the foam in words: kind, layers and height, from the stack of the report."""

from __future__ import annotations

from ..language import figure, mm, say, say_count
from .scene import Scene, Spacer


def foam_words(scene: Scene) -> tuple[str, ...]:
    """What to stick, how high it gets, and what it must clear."""
    number, stack = scene.foam_pads, scene.stack
    keep = say("Keep it off lights and off the spot to press.")
    if stack is None:
        return (say_count("{number} piece of foam.", "{number} pieces of foam.", number), keep)
    words = [
        say("It settles to {settled} mm; {part} stands {height} mm.",
            settled=figure(stack.settled), part=stack.over, height=figure(stack.height))
    ]  # fmt: skip
    if stack.travel is not None:
        words.append(say("A press goes down {travel} mm.", travel=figure(stack.travel)))
    return (_pieces(number, stack), " ".join(words), keep)


def no_foam_words(scene: Scene) -> tuple[str, ...]:
    """What a card without foam needs under its front; nothing where foam is drawn."""
    stack = scene.stack
    if stack is None or not scene.foam.is_empty:
        return ()
    high = figure(stack.thickness)
    how = _layers(stack) if stack.layers else say("foam {high} mm high", high=high)
    return (
        say(
            "No foam is drawn. To clear {part} ({height} mm high) it takes {layers}; the entry Lay "
            "the foam draws it.",
            part=stack.over, height=figure(stack.height), layers=how,
        ),
    )  # fmt: skip


def _pieces(number: int, stack: Spacer) -> str:
    """3 pieces, each two layers of 3 mm foam, one on the other: 6 mm high."""
    high = figure(stack.thickness)
    if not stack.layers:
        return say_count("{number} piece of foam {high} mm high.",
                         "{number} pieces of foam {high} mm high.", number, high=high)  # fmt: skip
    pads = say_count("{number} piece", "{number} pieces", number)
    if len(set(stack.layers)) == 1:
        return say("{pads}, each {layers}: {high} mm high.",
                   pads=pads, layers=_layers(stack), high=high)  # fmt: skip
    return say("{pads}, each of {layers}: {high} mm high.",
               pads=pads, layers=_layers(stack), high=high)  # fmt: skip


def _layers(stack: Spacer) -> str:
    """two layers of 3 mm foam, one on the other; foam 3 mm + 2 mm, one on the other."""
    if len(set(stack.layers)) > 1:
        return say("foam {layers}, one on the other", layers=" + ".join(map(mm, stack.layers)))
    number, thick = len(stack.layers), figure(stack.layers[0])
    if number == 1:
        return say("one layer of {thick} mm foam", thick=thick)
    if number == 2:
        return say("two layers of {thick} mm foam, one on the other", thick=thick)
    if number == 3:
        return say("three layers of {thick} mm foam, one on the other", thick=thick)
    return say("{number} layers of {thick} mm foam, one on the other", number=number, thick=thick)
