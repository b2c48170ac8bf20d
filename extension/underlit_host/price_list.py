"""The maker's price list, as it lies on disk."""

from __future__ import annotations

import os

from underlit.errors import UnreadablePrices
from underlit.language import say

from .files import reason


def read_list(path: str) -> tuple[bytes, str] | None:
    """Content and name of the list; None where none is asked for. Raises UnreadablePrices."""
    if not path:
        return None
    whole = os.path.expanduser(path)
    if os.path.isdir(whole):
        return None if path.endswith((os.sep, "/")) else _refuse(path)
    try:
        with open(whole, "rb") as file:
            return file.read(), os.path.basename(whole)
    except (OSError, ValueError) as fault:
        if isinstance(fault, FileNotFoundError):
            raise UnreadablePrices(say("There is no price list {path}.", path=path)) from None
        raise UnreadablePrices(
            say("{path} cannot be read: {reason}.", path=path, reason=reason(fault))
        ) from None


def _refuse(path: str) -> None:
    raise UnreadablePrices(say("{path} is a folder; name a price list in it.", path=path))
