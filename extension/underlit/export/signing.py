"""A mark in every exported file by which the tool knows its own later: name and content.

A file whose mark fits is as it was exported, under the name it was given. Whatever else has
been done to it, it is the maker's.
"""

from __future__ import annotations

import re

#: What stands in a file before its digest is known: the mark and the figures of a SHA-256.
MARK = "underlit-export "
UNSIGNED = MARK + "0" * 64

_SIGNED = re.compile(MARK.encode() + rb"[0-9a-f]{64}")


def signed(data: bytes, name: str) -> bytes:
    """A file that holds `UNSIGNED` with its digest there instead."""
    return data.replace(UNSIGNED.encode(), MARK.encode() + _digest(data, name), 1)


def is_signed(data: bytes, name: str) -> bool:
    """Whether a file was exported under this name and has not been changed since."""
    found = _SIGNED.findall(data)
    if len(found) != 1:
        return False
    bare = data.replace(found[0], UNSIGNED.encode())
    return bool(found[0] == MARK.encode() + _digest(bare, name))


def _digest(data: bytes, name: str) -> bytes:
    from hashlib import sha256  # late: few actions sign anything

    return sha256(name.encode() + b"\0" + data).hexdigest().encode()
