from __future__ import annotations

from dataclasses import replace

import pytest

from rules.cards import bench, codes, judge, only, profile
from underlit.errors import UnusableProfile
from underlit.profiles import Profile, load_profile


def posted(name: str, spacer: float = 6.0, limit: float | None = None) -> Profile:
    own = profile()
    post = dict(own.post)
    if limit is not None:
        post[name] = replace(post[name], thickness=limit)
    materials = replace(own.materials(), post=post)
    stack = replace(own.stack, post=name, spacer=spacer)
    return replace(own, stack=stack, materials=lambda: materials)


@pytest.mark.parametrize(("limit", "count"), [(7.7, 1), (7.78, 1), (7.79, 0), (7.8, 0), (8.0, 0)])
def test_below_at_and_above(limit: float, count: int) -> None:
    """4 x 0.35 card + 6 foam over two strips of 0.1 + envelope 2 x 0.1 = 7.8 mm."""
    found = judge(bench(), posted("uk-letter", limit=limit))
    assert codes(found) == [("card-too-thick", "caution")] * count


def test_only_where_a_letter_was_named() -> None:
    assert judge(bench()) == []
    finding = only(bench(), "card-too-thick", "caution", posted("uk-letter"))
    assert "7.8 mm" in finding.message
    assert "5 mm" in finding.message
    assert "thinner battery" in finding.remedy
    assert "layer of foam less" in finding.remedy


def test_settings_name_it_and_a_slip_is_told() -> None:
    assert load_profile("hand-laid", {"stack": {"post": "uk-letter"}}).stack.post == "uk-letter"
    with pytest.raises(UnusableProfile, match="uk-letter"):
        load_profile("hand-laid", {"stack": {"post": "uk-leter"}})
