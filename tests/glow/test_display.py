"""The display curve and its inverse; sRGB by its standard."""

from __future__ import annotations

import numpy as np
import pytest

from underlit.glow.display import lux_of, shown, to_linear, to_srgb
from underlit.glow.png import png_bytes
from underlit.glow.sources import light_colour

from .read_png import read_png

COLOURS = ["#ffe2b0", "#eaf3ff", "#ff3b30", "#3ddc5a", "#3f6bff", "#c77dff"]


@pytest.mark.parametrize("colour", COLOURS)
@pytest.mark.parametrize("full", [1.0, 3000.0])
def test_8_bits_give_the_light_back_within_1_percent_of_full_scale(
    colour: str, full: float
) -> None:
    lux = np.linspace(0.0, full, 2001)
    linear = shown(lux, np.array([light_colour(colour)] * len(lux)), full)
    pixels = np.rint(to_srgb(linear) * 255.0)
    assert np.abs(lux_of(pixels, full) - lux).max() <= 0.01 * full


def test_the_largest_channel_is_that_of_the_light() -> None:
    for colour, channel in (("#ff3b30", 0), ("#3ddc5a", 1), ("#3f6bff", 2)):
        for share in (0.001, 0.1, 1.0):
            pixel = shown(np.array(share), np.array(light_colour(colour)), 1.0)
            assert int(np.argmax(pixel)) == channel


def test_srgb_of_its_standard() -> None:
    """IEC 61966-2-1: 18 % grey is 118 of 255 rounded, the ends meet, both ways are inverse."""
    assert to_srgb(np.array([0.0, 1.0])).tolist() == [0.0, pytest.approx(1.0)]
    assert round(float(to_srgb(np.array(0.18))) * 255) == 118
    values = np.linspace(0.0, 1.0, 1001)
    np.testing.assert_allclose(to_linear(to_srgb(values)), values, atol=1e-6)


def test_more_light_is_never_darker() -> None:
    lux = np.linspace(0.0, 1.0, 500)
    linear = shown(lux, np.array([light_colour("#ffe2b0")] * 500), 1.0)
    assert (np.diff(linear, axis=0) >= -1e-12).all()


@pytest.mark.parametrize("shape", [(1, 1), (3, 7), (40, 25)])
def test_png_holds_the_pixels_and_their_size(shape: tuple[int, int]) -> None:
    pixels = np.random.default_rng(4).integers(0, 256, (*shape, 4), dtype=np.uint8)
    data = png_bytes(pixels, (0.1, 0.2))
    back, chunks = read_png(data)
    assert (back == pixels).all()
    assert chunks["pHYs"] == (10000).to_bytes(4, "big") + (5000).to_bytes(4, "big") + b"\1"
    assert data == png_bytes(pixels.copy(), (0.1, 0.2))


@pytest.mark.parametrize(
    ("text", "linear"),
    [
        ("#ffffff", (1, 1, 1)),
        ("#000000", (1, 1, 1)),
        ("#800000", (1, 0, 0)),
        ("#00bc00", (0, 1, 0)),
    ],
)
def test_colours_have_their_largest_channel_at_1(text: str, linear: tuple[float, ...]) -> None:
    assert light_colour(text) == pytest.approx(linear)
