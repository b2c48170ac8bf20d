"""Files of an earlier export that are no part of this one: removed or named, never lost.

Removed are only further sheets (`-2`, `-3`) of a material that this export has fewer sheets of,
where files may be replaced and the mark in the file says that nobody has changed it since.
"""

from __future__ import annotations

import os
import re
import time
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager, suppress

from underlit.export.signing import is_signed
from underlit.records import record

#: Every name that an export gives.
MATERIALS = (
    "tape-positive",
    "tape-negative",
    "tape",
    "base",
    "foam",
    "patches",
    "cover",
    "diffuser",
    "panel",
    "guides",
    "test-cut",
)

#: What a run that was killed may leave behind is removed when it is so old (s).
STALE = 3600.0


@record
class Leftovers:
    """Names in a folder: `surplus` sheets that are provably ours, and others that `stay`."""

    surplus: tuple[str, ...]
    stay: tuple[str, ...]


def leftovers(folder: str, stem: str, names: Collection[str]) -> Leftovers:
    """What lies in a folder from earlier exports of a drawing, of the kinds of file in `names`.

    `stem` is what all names begin with, `names` the files of this export.
    """
    pattern = re.compile(
        re.escape(stem) + rf"-({'|'.join(MATERIALS)})(-[1-9]\d*)?((?:-r12)?\.(?:svg|dxf))"
    )
    matches = {name: pattern.fullmatch(name) for name in (*names, *sorted(_listed(folder)))}
    known = {name: match for name, match in matches.items() if match}
    here = {os.path.normcase(name) for name in names}
    written = {(match[1], match[3]) for name, match in known.items() if name in names}
    kinds = {kind for _, kind in written}
    surplus, stay = [], []
    for name, match in known.items():
        if os.path.normcase(name) in here or match[3] not in kinds:
            continue
        further = match[2] is not None and (match[1], match[3]) in written
        (surplus if further and _ours(folder, name) else stay).append(name)
    return Leftovers(tuple(surplus), tuple(stay))


def _listed(folder: str) -> list[str]:
    try:
        return os.listdir(folder)
    except OSError:
        return []


def _ours(folder: str, name: str) -> bool:
    path = os.path.join(folder, name)
    try:
        if os.path.islink(path) or not os.path.isfile(path):
            return False
        with open(path, "rb") as file:
            return is_signed(file.read(), name)
    except OSError:
        return False


@contextmanager
def without(folder: str, names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Remove files when all inside went well; gives the names of those that can be removed.

    They are renamed first, and come back where something fails.
    """
    aside: dict[str, str] = {}
    for name in names:
        path = os.path.join(folder, name)
        hidden = os.path.join(folder, f".underlit-{os.getpid()}-{len(aside)}.part")
        with suppress(OSError):
            os.rename(path, hidden)
            aside[name] = hidden
    try:
        yield tuple(aside)
    except BaseException:
        for name, hidden in aside.items():
            with suppress(OSError):
                os.rename(hidden, os.path.join(folder, name))
        raise
    for hidden in aside.values():
        with suppress(OSError):
            os.unlink(hidden)


def sweep(folder: str) -> None:
    """Remove what a killed run left half written."""
    for name in _listed(folder):
        if re.fullmatch(r"\.underlit-\d+-[0-9a-f]+\.part", name):
            path = os.path.join(folder, name)
            with suppress(OSError):
                if time.time() - os.stat(path).st_mtime > STALE:
                    os.unlink(path)
