"""The language in which Underlit speaks to the maker.

    say("{light} is {gap} mm from the edge.", light=name, gap=figure(gap))

`say` translates a whole sentence, then fills in its words in braces; so a translator may turn
them round. Sentences of a table are marked with `later` where they stand and said when they are
used. Texts are gathered from the source by `tests/locale_tools/write_catalogs.py`; English is
spoken wherever a catalog or a text of it is missing.

The language is the one that the host shows its menus in (it hands it on as gettext's LANGUAGE);
from a shell, that of the environment.
"""

from .figures import (
    and_more,
    begun,
    decimal,
    figure,
    hundredths,
    inside,
    joined,
    listed,
    mm,
    thousands,
    two_digits,
)
from .saying import later, say, say_count, speak, spoken

__all__ = [
    "and_more",
    "begun",
    "decimal",
    "figure",
    "hundredths",
    "inside",
    "joined",
    "later",
    "listed",
    "mm",
    "say",
    "say_count",
    "speak",
    "spoken",
    "thousands",
    "two_digits",
]
