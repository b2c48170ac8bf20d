"""What can stop an action. A fault of the drawing is a finding; these are not.

UnderlitError            one clear sentence for the maker; base of all
|-- UnreadableDrawing    the file is no drawing that can be read safely
|-- UnreadablePrices     a price list has an entry that is no price (line, column)
|-- UnusableProfile      a profile is missing or has a wrong entry
|-- UnknownChoice        an option names something that does not exist
|-- UnwritableTarget     the result cannot be written where it should go
|-- UnfinishedCard       the card has a fault that must be mended first
"""

from __future__ import annotations


class UnderlitError(Exception):
    """One clear sentence for the maker: what must be, what came, what to do."""


class UnreadableDrawing(UnderlitError):
    """The file is no drawing that can be read safely."""


class UnreadablePrices(UnderlitError):
    """A price list has an entry that is no price (line, column)."""


class UnusableProfile(UnderlitError):
    """A profile is missing, or an entry in it is wrong (file, key, what was expected)."""


class UnknownChoice(UnderlitError):
    """An option names something that does not exist."""


class UnwritableTarget(UnderlitError):
    """The result cannot be written where it should go."""


class UnfinishedCard(UnderlitError):
    """The card has a fault that must be mended first."""
