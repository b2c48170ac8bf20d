"""An RGBA array as the bytes of a PNG file (W3C PNG, third edition). Same array, same bytes.

Only what a picture of the glow needs: 8 bits, RGBA, one filter, real size. A whole imaging library
would cost more at start-up than everything else of the preview.
"""

from __future__ import annotations

import struct
import zlib

import numpy as np

SIGNATURE = b"\x89PNG\r\n\x1a\n"

#: 8 bits, colour with alpha, deflate, adaptive filters, no interlace.
KIND = bytes([8, 6, 0, 0, 0])

#: Rows as they are: smaller and twice as quick as any difference where paper is dithered.
PLAIN = 0

#: zlib's effort: more takes longer for little. Another release of zlib may pack the same pixels
#: into other bytes.
EFFORT = 6


def png_bytes(pixels: np.ndarray, mm_per_pixel: tuple[float, float]) -> bytes:
    """(height, width, 4) uint8 as a PNG file that knows its size on paper."""
    height, width, _ = pixels.shape
    rows = np.ascontiguousarray(pixels).reshape(height, width * 4)
    lines = np.empty((height, 1 + width * 4), dtype=np.uint8)
    lines[:, 0] = PLAIN
    lines[:, 1:] = rows
    per_metre = [round(1000.0 / size) for size in mm_per_pixel]
    return b"".join(
        (
            SIGNATURE,
            _chunk(b"IHDR", struct.pack(">II", width, height) + KIND),
            _chunk(b"sRGB", b"\x00"),
            _chunk(b"pHYs", struct.pack(">IIB", *per_metre, 1)),
            _chunk(b"IDAT", zlib.compress(lines.tobytes(), EFFORT)),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    check = struct.pack(">I", zlib.crc32(kind + data))
    return struct.pack(">I", len(data)) + kind + data + check
