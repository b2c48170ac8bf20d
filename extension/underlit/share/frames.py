"""Pictures of the lit card: one, or several where lights change their colour."""

from __future__ import annotations

import base64
import io
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..glow.picture import lit_card
from ..glow.sources import Sources, light_colour
from ..model.card import Card
from ..profiles import Profile
from ..records import record

#: What a colour changing light runs through after its own colour (proposed).
COLOURS = ("#4f7dff", "#2fd6a0", "#ffc94a", "#ff5a4a")

#: Seconds from one colour to the next (proposed: slow lights take one to three).
PACE = 2.0


@record
class Frames:
    """Pictures as data URIs over `box` (x0, y0, x1, y1, page mm); `tint` is their mean colour."""

    uris: tuple[str, ...]
    box: tuple[float, float, float, float]
    pixels: tuple[int, int]
    tint: str


def changing(card: Card, sources: Sources, profile: Profile) -> tuple[int, ...]:
    """Which sources change their colour: those with a chip of their own."""
    types = {light.id: light.type for light in card.lights}
    kinds = [profile.lights[types[name]] for name in sources.ids]
    return tuple(i for i, kind in enumerate(kinds) if kind.least_volt > 0.0)


def frames_of(
    card: Card, sources: Sources, profile: Profile, most_pixels: int, quality: int | None
) -> Frames | None:
    """The lit card; None where nothing burns or no front is drawn."""
    if not sources.ids or not card.panels:
        return None
    turning = changing(card, sources, profile)
    colours = (None, *COLOURS) if turning else (None,)
    shades = [sources if one is None else _coloured(sources, turning, one) for one in colours]
    pictures = [lit_card(card, shade, profile, most_pixels) for shade in shades]
    drawn = [picture for picture in pictures if picture is not None]
    height, width, _ = drawn[0].pixels.shape
    uris = tuple(_uri(picture.pixels, quality) for picture in drawn)
    return Frames(uris, drawn[0].box, (width, height), _tint(drawn[0].pixels))


def _coloured(sources: Sources, which: Sequence[int], colour: str) -> Sources:
    colours = sources.colour.copy()
    colours[list(which)] = light_colour(colour)
    return replace(sources, colour=colours)


def _uri(pixels: np.ndarray, quality: int | None) -> str:
    """(h, w, 4) uint8 as a WebP picture without its outline, which the page cuts exactly.

    Without a quality every pixel is kept as it is.
    """
    from PIL import Image  # late: only this needs it

    file = io.BytesIO()
    picture = Image.fromarray(np.ascontiguousarray(pixels[..., :3]))
    if quality is None:
        picture.save(file, "WEBP", lossless=True, quality=50, method=2)
    else:
        picture.save(file, "WEBP", quality=quality, method=4, use_sharp_yuv=True)
    return f"data:image/webp;base64,{base64.b64encode(file.getvalue()).decode('ascii')}"


def _tint(pixels: np.ndarray) -> str:
    """The mean colour of what is bright, as "#rrggbb": what the card throws into the room."""
    weight = pixels[..., :3].max(axis=2).astype(float) ** 2 * (pixels[..., 3] > 0)
    mean = np.einsum("hwc,hw->c", pixels[..., :3], weight) / max(float(weight.sum()), 1.0)
    return "#{:02x}{:02x}{:02x}".format(*(round(float(v)) for v in mean))
