"""Prepare on any drawing with any choice: done or refused in one sentence, and nothing is lost."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from lxml import etree

from kit.prepared import LABEL, Prepared
from kit.run import UNDERLIT
from properties.choices import drawing_and_choice

#: Attributes that Prepare may set, and labels of layers that are its own.
MAY_SET = frozenset({f"{UNDERLIT}role", f"{UNDERLIT}part"})
OWN = frozenset({"Openings"})


def objects(data: bytes) -> Counter[tuple[object, ...]]:
    """Every element by tag, attributes and text, but for what Prepare may set."""
    root = etree.fromstring(data)
    return Counter(
        (
            element.tag,
            tuple(sorted(item for item in element.attrib.items() if not _may_be_set(*item))),
            (element.text or "").strip(),
        )
        for element in root.iterdescendants(etree.Element)
        if element.get(LABEL) not in OWN
    )


def _may_be_set(name: str, value: str) -> bool:
    """Roles; and an id for an object without one that was chosen by its number."""
    return name in MAY_SET or (name == "id" and value.startswith("piece"))


@pytest.mark.parametrize(
    "seeds", [range(120), pytest.param(range(120, 3000), marks=pytest.mark.slow)], ids=str
)
def test_done_or_refused_and_nothing_lost(
    seeds: range, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    card = Prepared(tmp_path, monkeypatch)
    done = 0
    for seed in seeds:
        drawing, options = drawing_and_choice(seed)
        card.run(drawing, *options)
        if card.code:
            assert len(card.refused()) > 20, seed
            continue
        done += 1
        first = card.drawing
        assert not objects(drawing.encode()) - objects(first), seed
        assert card.again(*options).code == 0, (seed, card.error)
        assert card.drawing == first, seed
    assert done > len(seeds) // 4
