"""One matrix from width, height, viewBox and preserveAspectRatio."""

from __future__ import annotations

import pytest
from host_drawing import box, only, read_cut

from kit.german import english_in
from underlit.errors import UnreadableDrawing
from underlit.units import MM_PER_PX

RECT = '<rect x="10" y="20" width="30" height="5"/>'


@pytest.mark.parametrize(
    ("page", "size", "scale", "corner"),
    [
        ('width="200mm" height="100mm" viewBox="0 0 200 100"', (200, 100), 1, (10, 20)),
        ('width="20cm" height="1in" viewBox="0 0 200 25.4"', (200, 25.4), 1, (10, 20)),
        ('width="96" height="192px"', (25.4, 50.8), MM_PER_PX, (2.645833, 5.291667)),
        ('width="72pt" height="12pc"', (25.4, 50.8), MM_PER_PX, (2.645833, 5.291667)),
        ('width="400q" height="100mm" viewBox="0 0 300 300"', (100, 100), 1 / 3, (10 / 3, 20 / 3)),
        ('width="200mm" height="100mm" viewBox="-5 5 200 100"', (200, 100), 1, (15, 15)),
        ('viewBox="0 0 96 48"', (25.4, 12.7), MM_PER_PX, (2.645833, 5.291667)),
        (
            'width="100%" height="100%" viewBox="0 0 96 48"',
            (25.4, 12.7),
            MM_PER_PX,
            (2.645833, 5.291667),
        ),
        (
            'width="auto" height="" viewBox="0,0,96,48"',
            (25.4, 12.7),
            MM_PER_PX,
            (2.645833, 5.291667),
        ),
    ],
)
def test_page(page: str, size: tuple, scale: float, corner: tuple) -> None:
    drawing = read_cut(RECT, page)
    assert (drawing.page.width, drawing.page.height) == pytest.approx(size)
    assert drawing.page.scale == pytest.approx(scale)
    assert box(only(drawing))[:2] == pytest.approx(corner, abs=1e-6)


# A viewBox of 100 x 50 on a page of 100 x 100 mm, and of 50 x 100 on the same page.
@pytest.mark.parametrize(
    ("how", "wide", "high"),
    [
        ("", (0, 25, 1), (25, 0, 1)),
        ("xMinYMin meet", (0, 0, 1), (0, 0, 1)),
        ("xMidYMin", (0, 0, 1), (25, 0, 1)),
        ("xMaxYMin", (0, 0, 1), (50, 0, 1)),
        ("xMinYMid", (0, 25, 1), (0, 0, 1)),
        ("xMidYMid", (0, 25, 1), (25, 0, 1)),
        ("xMaxYMid", (0, 25, 1), (50, 0, 1)),
        ("xMinYMax", (0, 50, 1), (0, 0, 1)),
        ("xMidYMax", (0, 50, 1), (25, 0, 1)),
        ("defer xMaxYMax meet", (0, 50, 1), (50, 0, 1)),
        ("xMinYMin slice", (0, 0, 2), (0, 0, 2)),
        ("xMidYMid slice", (-50, 0, 2), (0, -50, 2)),
        ("xMaxYMax slice", (-100, 0, 2), (0, -100, 2)),
    ],
)
def test_preserve_aspect_ratio(how: str, wide: tuple, high: tuple) -> None:
    for view, (left, top, scale) in (("0 0 100 50", wide), ("0 0 50 100", high)):
        page = f'width="100mm" height="100mm" viewBox="{view}" preserveAspectRatio="{how}"'
        got = box(only(read_cut('<rect width="10" height="10"/>', page)))
        assert got == pytest.approx((left, top, left + 10 * scale, top + 10 * scale))


def test_none_with_one_scale_is_fine() -> None:
    page = 'width="100mm" height="50mm" viewBox="0 0 200 100" preserveAspectRatio="none"'
    assert box(only(read_cut(RECT, page)))[:2] == pytest.approx((5, 10))


def test_rounded_size_is_not_stretched() -> None:
    page = 'width="105mm" height="148mm" viewBox="0 0 396.85 559.37" preserveAspectRatio="none"'
    assert only(read_cut(RECT, page))


def test_first_page_sets_the_origin() -> None:
    view = (
        '<sodipodi:namedview><inkscape:page x="20" y="10" width="80" height="60"/>'
        '<inkscape:page x="0" y="0" width="5" height="5"/></sodipodi:namedview>'
    )
    from host_drawing import layer, read

    drawing = read(view + layer(RECT))
    assert (drawing.page.width, drawing.page.height) == pytest.approx((80, 60))
    assert box(only(drawing)) == pytest.approx((-10, 10, 20, 15))


UNUSABLE = [
    ("", "cannot be read"),
    ('width="100%" height="100%"', "no width is given"),
    ('width="100" height="50%"', "no height is given"),
    ('width="0" height="100"', "no size"),
    ('width="1e-30mm" height="1e-30mm" viewBox="0 0 1 1"', "no size"),
    ('width="10mm" height="-5mm"', "no size"),
    ('width="0" height="0" viewBox="0 0 10 10"', "no size"),
    ('width="10mm" height="5mm" viewBox="0 0 0 5"', "viewBox has no size"),
    ('width="10mm" height="5mm" viewBox="0 0 10 -5"', "viewBox has no size"),
    ('width="10mm" height="5mm" viewBox="0 0 10"', "viewBox is"),
    ('width="10mm" height="5mm" viewBox="0 0 ten 5"', "no number"),
    ('width="10mm" height="5mm" viewBox="0 0 1e999 5"', "viewBox is"),
    ('width="nan" height="5mm"', "width is nan"),
    ('width="1e999" height="5mm"', "width is 1e999"),
    ('width="10em" height="5mm"', "width is 10em"),
    ('width="1e9mm" height="5mm"', "m long"),
    ('width="30" height="27" viewBox="0 0 6E20 540"', "no card is drawn so"),
    ('width="30mm" height="30mm" viewBox="0 0 1e-9 1e-9"', "no card is drawn so"),
    (
        'width="100mm" height="100mm" viewBox="0 0 100 50" preserveAspectRatio="none"',
        "stretched",
    ),
]


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("page", [page for page, _ in UNUSABLE])
def test_unusable_page_in_german(page: str) -> None:
    with pytest.raises(UnreadableDrawing) as fault:
        read_cut(RECT, page)
    assert english_in(str(fault.value)) == []
    assert "Zeichnung" in str(fault.value)


@pytest.mark.parametrize(("page", "words"), UNUSABLE)
def test_unusable_page(page: str, words: str) -> None:
    with pytest.raises(UnreadableDrawing, match=words):
        read_cut(RECT, page)
