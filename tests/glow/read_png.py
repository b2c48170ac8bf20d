"""A PNG file read back from its specification, for tests: no code of the tool."""

from __future__ import annotations

import struct
import zlib

import numpy as np


def read_png(data: bytes) -> tuple[np.ndarray, dict[str, bytes]]:
    """(height, width, 4) uint8 and all chunks by name; only 8 bit RGBA without interlace."""
    assert data[:8] == bytes([137, 80, 78, 71, 13, 10, 26, 10])
    chunks: dict[str, bytes] = {}
    place = 8
    while place < len(data):
        size, kind = struct.unpack(">I4s", data[place : place + 8])
        body = data[place + 8 : place + 8 + size]
        (check,) = struct.unpack(">I", data[place + 8 + size : place + 12 + size])
        assert check == zlib.crc32(kind + body)
        chunks[kind.decode()] = chunks.get(kind.decode(), b"") + body
        place += 12 + size
    assert list(chunks)[-1] == "IEND"
    width, height, *rest = struct.unpack(">IIBBBBB", chunks["IHDR"])
    assert rest == [8, 6, 0, 0, 0]
    raw = zlib.decompress(chunks["IDAT"])
    lines = np.frombuffer(raw, dtype=np.uint8).reshape(height, 1 + 4 * width)
    assert set(lines[:, 0].tolist()) == {0}  # no row is filtered
    return lines[:, 1:].reshape(height, width, 4), chunks
