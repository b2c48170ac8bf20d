"""Something kilometres large strays onto a card: no action may run out of memory over it."""

from __future__ import annotations

import re
import resource
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import shapely

from kit.run import ROOT
from underlit.geometry.places import NEARLY, farthest
from underlit.geometry.spacing import ALL_OVER, ALONG, step_along, step_over
from underlit.markup.signs import MOST, Signed, sign_groups
from underlit.model.card import Strip

from .deeds import MEMORY, QUICK, SLOW
from .walk import act

#: Actions that between them do what all do.
DEEDS = [d for d in (*QUICK, *SLOW) if d.script in {"lay_foam", "make_it_light", "pack_to_share"}]

BLOB = "M -900000 -600000 H 900000 V 600000 H -900000 Z"
SLIVER = "M 40 40 L 900000 600000 L 900000 600005 L 40 45 Z"
BENT = "M 40 40 L 900000 600000 L 900000 40"
STRAY = {
    "strip": ("Tape", BENT, "fill:none;stroke:#000;stroke-width:5"),
    "wide strip": ("Tape", "M 40 40 L 60 60", "fill:none;stroke:#000;stroke-width:25000000"),
    "thin strip": ("Tape", SLIVER, "fill:#000"),
    "sheet of tape": ("Tape", BLOB, "fill:#000"),
    "fold": ("Folds", "M 20 -900000 V 600000", "fill:none;stroke:#000;stroke-width:0.2"),
    "back sheet": ("Base", BLOB, "fill:#fff"),
    "thin back sheet": ("Base", SLIVER, "fill:#fff"),
    "panel": ("Die cut", BLOB, "fill:none;stroke:#000;stroke-width:0.2"),
    "thin panel": ("Die cut", SLIVER, "fill:none;stroke:#000;stroke-width:0.2"),
}


@pytest.fixture
def little_memory() -> Iterator[None]:
    before = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, before[1]))
    yield
    resource.setrlimit(resource.RLIMIT_AS, before)


def with_stray(name: str) -> bytes:
    """The lantern with one thing more, on the layer where such things belong.

    No coordinate is beyond what is read (1 km), but a stroke may be wider.
    """
    layer, run, style = STRAY[name]
    stray = f'<path id="stray" d="{run}" style="{style}"/>'
    text = (ROOT / "sample_svgs" / "lantern.svg").read_text(encoding="utf-8")
    found = re.search(rf'<g [^>]*inkscape:label="{layer}"[^>]*>', text)
    if found is None:
        new = f'<g inkscape:groupmode="layer" inkscape:label="{layer}">{stray}</g>'
        return text.replace("</svg>", f"{new}</svg>").encode()
    return (text[: found.end()] + stray + text[found.end() :]).encode()


@pytest.mark.usefixtures("little_memory")
@pytest.mark.parametrize("name", STRAY)
def test_every_action_gets_by(name: str, tmp_path: Path) -> None:
    drawing = with_stray(name)
    faults = {deed.script: act(deed, [], drawing, tmp_path)[0] for deed in DEEDS}
    assert not any(faults.values()), {script: told for script, told in faults.items() if told}


@pytest.mark.usefixtures("little_memory")
def test_how_far_something_vast_reaches_is_told_within_its_share() -> None:
    """By hand: the upper right corner, from the right edge and the upper edge of the sheet."""
    sheet = shapely.box(0, 0, 200, 200)
    blob = shapely.box(-1e7, -6e6, 1.1e7, 6e6)
    assert farthest(blob, sheet) == pytest.approx(np.hypot(1.1e7 - 200, 6e6))
    disc = shapely.Point(0, 0).buffer(300)
    assert farthest(disc, shapely.Point(0, 0)) == pytest.approx(300, abs=NEARLY)


def test_steps_are_as_wished_on_cards_and_few_on_what_is_vast() -> None:
    assert step_along(1.0, 2_000.0) == 1.0
    assert 1e7 / step_along(1.0, 1e7) <= ALONG
    assert step_over(1.0, (0, 0, 300, 200)) == 1.0
    for wide, high in ((1e7, 1e7), (1e7, 0.0), (1e-3, 1e7)):
        step = step_over(1.0, (-wide, 0.0, 0.0, high))
        assert (wide / step) * (high / step) <= ALL_OVER * 1.001
        assert max(wide, high) / step <= ALL_OVER * 1.001


@pytest.mark.usefixtures("little_memory")
def test_signs_of_a_strip_without_end_are_few() -> None:
    line = shapely.LineString([(0, 0), (1.1e7, 6e6)])
    strip = Strip("s", "s", 0, line.buffer(2.5), 5.0, line.length, 0, line, True, None, None)
    (group,) = sign_groups([Signed(strip, "positive", "P1")], shapely.Polygon())
    assert 100 < len(group.items) < 3 * MOST
