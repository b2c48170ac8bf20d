"""The closing words of the whole way."""

from __future__ import annotations

import pytest

from underlit.workflows import make_it_light as way


@pytest.mark.parametrize(
    ("name", "words", "told"),
    [
        (
            way.POWER,
            "The battery does not fit at 5, 5 mm. It fits nowhere.\nNothing was changed.",
            "The battery does not fit at 5, 5 mm. It fits nowhere.",
        ),
        (way.TAPE, "I changed nothing. There is no way. Move light 3.", "There is no way. Move"),
    ],
)
def test_a_step_that_fails_does_not_say_that_nothing_was_changed(
    name: str, words: str, told: str
) -> None:
    """The lights are on the drawing by then."""
    steps = [
        way.Step(way.LIGHTS, True, "3 lights placed.", {}),
        way.Step(name, False, words, {}),
    ]
    lines = way.outcome(steps, lantern=False, untouched=False).message.splitlines()
    assert lines[1].startswith(told)
    assert len(lines) == 2
    assert "hanged" not in " ".join(lines)
