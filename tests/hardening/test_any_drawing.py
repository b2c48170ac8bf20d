"""A share of what `run.py` does at length: odd drawings that hypothesis thinks up and shrinks."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .deeds import QUICK, SLOW, Deed
from .judging import lost
from .walk import act, walk

HERS = (
    b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1">'
    b'<g transform="translate(1 0)"><rect id="a" width="5"/></g><g underlit:role="marks"/></svg>'
)


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.randoms(use_true_random=False))
def test_odd_drawings(tmp_path_factory: pytest.TempPathFactory, rng: random.Random) -> None:
    assert walk(rng, tmp_path_factory.mktemp("odd")) == []


@pytest.mark.parametrize("deed", [*QUICK, *SLOW], ids=lambda deed: deed.script)
def test_every_action_takes_a_good_card_so(deed: Deed, tmp_path: Path) -> None:
    """The walk would be worth nothing if each action only ever refused."""
    card = Path(__file__).resolve().parents[2] / "sample_svgs" / "lantern.svg"
    given = {name: values[0] for name, values in deed.options.items() if values[0]}
    options = [f"{name}={value}" for name, value in given.items()]
    faults, after = act(deed, options, card.read_bytes(), tmp_path)
    assert faults == []
    assert after is not None


@pytest.mark.parametrize(
    "harm",
    [
        (b"translate(1 0)", b"translate(2 0)"),
        (b'width="5"', b'width="6"'),
        (b'<rect id="a" width="5"/>', b""),
        (b'<rect id="a"', b'<rect id="a" style="fill:red"'),
    ],
)
def test_the_judge_sees_harm(harm: tuple[bytes, bytes]) -> None:
    assert lost(HERS, HERS) is None
    assert lost(HERS, HERS.replace(*harm)) is not None


def test_the_judge_lets_roles_and_marks_pass() -> None:
    marked = HERS.replace(b'<rect id="a"', b'<rect id="a" underlit:role="base"')
    marked = marked.replace(b'role="marks"/>', b'role="marks"><path d="M 0 0"/></g>')
    assert lost(HERS, marked) is None


@pytest.mark.parametrize(("left", "stays"), [(b"0.5", True), (b"0.6", False)])
def test_the_judge_lets_an_object_move_to_a_layer_where_it_stays(left: bytes, stays: bool) -> None:
    """Under another layer's transform it is the same object where that is undone round it."""
    rect, end = b'<rect id="a" width="5"/>', b"</svg>"
    undone = b'<g transform="scale(2)"><g transform="matrix(0.5 0 0 0.5 %s 0)">' % left
    moved = HERS.replace(rect, b"").replace(end, undone + rect + b"</g></g>" + end)
    assert (lost(HERS, moved) is None) == stays
