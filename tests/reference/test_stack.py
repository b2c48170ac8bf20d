"""Three cards worked out by hand (dimensions: reference values, sections 1 and 6)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import box

from rules.cards import bare_cell, bench, profile, sheet
from underlit.model.card import Card
from underlit.stack import (
    cheapest,
    classes_for,
    closed,
    needed_spacer,
    pressed_height,
    settled,
    tallest,
    thinnest,
)


def worked(card: Card) -> tuple[float, float, tuple[str, ...], float | None]:
    """Height of the tallest part, needed spacer, foams, travel."""
    own = profile()
    tall = tallest(card, own)
    assert tall is not None
    layers = cheapest(tall.height, pressed_height(card, own), own)
    assert layers is not None
    return tall.height, needed_spacer(tall.height, own), layers.foams, layers.travel


def test_a_holder_to_press() -> None:
    """CR2032 in a holder of 5.0 mm. 5.0 / 0.85 = 5.882. Two layers: 3 + 3.2 = 6.2 leave
    5.27 - 5 = 0.27, under the travel of 0.3; 3.2 + 3.2 = 6.4 leave 5.44 - 5 = 0.44: two of 1/8 in.

    Closed: 4 x 0.35 + 6.4 = 7.8 flat; 0.2 of strips under the foam: 8.0; envelope 0.2: 8.2.
    100 x 80 mm: no 5 mm and no 1/4 in letter, Kompaktbrief (10 mm) and the large ones.
    """
    height, needed, foams, travel = worked(bench())
    assert height == 5.0
    assert needed == pytest.approx(5.882, abs=5e-4)
    assert foams == ("foam-inch-8", "foam-inch-8")
    assert travel == pytest.approx(0.44)
    made = closed(bench(), profile(), 6.4, height)
    assert (made.flat, made.thickest) == pytest.approx((7.8, 8.0))
    assert made.thickest + made.envelope == pytest.approx(8.2)
    fits = classes_for(made, profile())
    assert set(fits) == {
        *("us-flat", "uk-large-letter", "de-kompakt", "de-gross", "ca-oversize", "au-large"),
    }


def test_a_bare_cr2032_under_a_flap() -> None:
    """3.2 + 2 x 0.1 and 0.35 of the flap's own card = 3.75; 3.75 / 0.85 = 4.412. Two layers of one
    kind: 2 + 2 mm leave 3.4, 3 + 3 mm leave 5.1. No press, no travel.
    """
    height, needed, foams, travel = worked(bench(cells=(bare_cell(closes="flap"),)))
    assert (height, needed) == pytest.approx((3.75, 4.412), abs=5e-4)
    assert foams == ("foam-3", "foam-3")
    assert travel is None


def test_a_bare_cr2016_under_a_flap_fits_a_letter() -> None:
    """1.6 + 0.2 + 0.35 = 2.15; 2.15 / 0.85 = 2.529: one layer of 3 mm (2 mm leave only 1.7).

    Closed: 1.4 + 3.0 = 4.4; strips 0.2, cover 0.1, vellum 0.1: 4.8; envelope 0.2: 5.0, just a
    5 mm letter. With thin card (0.23) 0.48 less.
    """
    cell = replace(bare_cell(closes="flap"), type="cr2016")
    whole = box(0, 0, 100, 80)
    card = bench(
        cells=(cell,),
        covers=(sheet("c", "cover", whole),),
        diffusers=(sheet("d", "diffuser", whole),),
    )
    height, needed, foams, _ = worked(card)
    assert (height, needed) == pytest.approx((2.15, 2.529), abs=5e-4)
    assert foams == ("foam-3",)
    made = closed(card, profile(), 3.0, height)
    assert (made.flat, made.thickest) == pytest.approx((4.4, 4.8))
    assert made.thickest + made.envelope == pytest.approx(5.0)
    assert {"uk-letter", "us-letter", "de-standard"} <= set(classes_for(made, profile()))
    thin = profile()
    thin = replace(thin, stack=replace(thin.stack, panel="thin-card"))
    assert closed(card, thin, 3.0, height).thickest == pytest.approx(4.32)


def test_one_layer_beside_a_holder_is_too_low_and_a_doubled_one_fits() -> None:
    """Common practice in the trade: a foam holder is 5 mm high; no single layer clears it."""
    own = profile()
    single = {name: settled(foam.thickness, own) for name, foam in own.foams.items()}
    assert max(single.values()) < 5.0
    assert 2.0 * max(single.values()) >= 5.0
    assert len(worked(bench())[2]) == 2


def test_the_least_foam_is_never_more_than_the_cheapest() -> None:
    """A holder to press, 5 mm: 3 + 3.2 leave 0.27 of travel, under 0.3; 3.2 + 2 + 1 = 6.2 too;
    1.6 + 1.6 + 3.2 = 6.4 is no less: so the cheapest is the least. A bare CR2025 (2.7 mm): two of
    2 mm are the cheapest, 2 + 1.6 the least (3.06 - 2.7 = 0.36)."""
    own = profile()
    for height, cheap, least in ((5.0, 6.4, 6.4), (2.7, 4.0, 3.6)):
        found = cheapest(height, height, own), thinnest(height, height, own)
        assert all(found)
        assert [one.thickness for one in found if one] == pytest.approx([cheap, least])
