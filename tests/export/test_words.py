"""What is said of an export."""

from __future__ import annotations

from dataclasses import replace

import pytest

from underlit.workflows.exporting_words import closing_words

from .exported import sample_made


@pytest.mark.parametrize("drawn", [True, False])
def test_a_back_sheet_that_is_not_drawn_is_told(drawn: bool) -> None:
    """Its file has the outline of the panel."""
    made = sample_made("firefly-jar", "in-place")
    words = closing_words(replace(made, card=replace(made.card, base_drawn=drawn)), (), ())
    assert ("No back sheet is drawn: the file base has the panel's outline." in words) is not drawn
