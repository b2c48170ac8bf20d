from __future__ import annotations

from rules.cards import bench, codes, judge, near, rails, strip, with_tape
from underlit.model.card import Card

PLAIN = with_tape(adhesive_conducts=False)


def split(joint: str | None, overlap: float = 5.0) -> Card:
    left = strip("left", ((10, 28), (42, 28)), polarity="negative")
    right = strip(
        "right", ((42 - overlap, 28), (60, 28), (60, 62.5)), polarity="negative", joint=joint
    )
    return bench(strips=[rails()[0], left, right])


def test_one_stop_at_the_overlap_beside_the_lights_that_it_darkens() -> None:
    found = judge(split(None), PLAIN)
    assert codes(found) == [("light-unfed", "stop")] * 2 + [("joint-not-conducting", "stop")]
    near(found[2], 39.5, 28)
    assert set(found[2].objects) == {"left", "right"}
    assert "glue" in found[2].message
    assert "folded-end" in found[2].remedy
    assert "overlap" not in found[0].remedy


def test_a_prepared_end_or_conducting_glue_is_fine() -> None:
    assert judge(split("folded-end"), PLAIN) == []
    assert judge(split("soldered"), PLAIN) == []
    assert judge(split(None)) == []


def test_a_folded_end_that_is_too_small_is_too_small() -> None:
    assert codes(judge(split("folded-end", 1.0), PLAIN)) == [("joint-too-small", "stop")]


def test_strips_in_one_piece_are_fine() -> None:
    assert judge(bench(), PLAIN) == []
