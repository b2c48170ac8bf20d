"""Words of parts and of the drawing: known ones are taken, others are told and not guessed at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..language import say
from ..model.drawing import Drawing
from ..model.finding import Finding

_CLOSES = ("press", "slide", "flap", "tab", "open", "always")

#: The words of each attribute by kind of part; the first is meant where there is none.
WORDS: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "light": {"contact": ("below", "above", "both"), "shows": ("opening", "through", "edge")},
    "cell": {"closes": _CLOSES, "up": ("plus", "minus")},
    "switch": {"closes": _CLOSES},
}

SIDES = ("front", "back")


def taken(kind: str, attributes: Mapping[str, str]) -> Mapping[str, str]:
    """The attributes of a part with its words as they are meant: without case and blanks, and the
    usual one instead of an unknown one."""
    known = WORDS.get(kind, {})
    own = {key: _meant(attributes[key], known[key]) for key in known if key in attributes}
    return {**attributes, **own} if own else attributes


def _meant(text: str, words: tuple[str, ...]) -> str:
    word = text.strip().lower()
    return word if word in words else words[0]


def unknown_words(drawing: Drawing) -> Iterator[Finding]:
    """What stands where a word of these is expected and is none."""
    if drawing.side_word not in ("", *SIDES):
        yield _told((), say("The drawing"), "side", drawing.side_word, SIDES)
    for part in drawing.parts:
        for key, words in WORDS.get(part.kind, {}).items():
            text = part.attributes.get(key, "").strip()
            if text and text.lower() not in words:
                yield _told((part.id,), part.id, key, text, words)


def _told(
    objects: tuple[str, ...], thing: str, key: str, text: str, words: tuple[str, ...]
) -> Finding:
    return Finding(
        "object-skipped",
        "caution",
        None,
        objects,
        say(
            '{thing} says {key} = "{text}": I do not know that word, so I take {usual}.',
            thing=thing,
            key=key,
            text=text,
            usual=words[0],
        ),
        say(
            "Write underlit:{key} = {words} or {last}.",
            key=key,
            words=", ".join(words[:-1]),
            last=words[-1],
        ),
    )
