"""Where exported files go, and what Save a Copy hands over."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence

from underlit.errors import UnwritableTarget
from underlit.language import say

from .action import Action, Outcome
from .files import write_all


def place_of(folder: str, drawing: str) -> str:
    """The folder of the files, else the drawing's own. Raises UnwritableTarget without one."""
    place = os.path.expanduser(folder) if folder else os.path.dirname(drawing)
    if not place:
        raise UnwritableTarget(say("Choose a folder for the files, or save the drawing first."))
    place = os.path.abspath(place)
    if not os.path.isdir(place):
        raise UnwritableTarget(
            say("There is no folder {folder}; make it first or choose another.", folder=place)
        )
    return place


def targets(place: str, files: Mapping[str, bytes], overwrite: bool) -> dict[str, bytes]:
    """Path -> bytes of every file.

    Raises UnwritableTarget where a file is there already and may not be replaced.
    """
    there = [name for name in files if os.path.lexists(os.path.join(place, name))]
    if there and not overwrite:
        raise UnwritableTarget(_already(there, place))
    return {os.path.join(place, name): data for name, data in files.items()}


def _already(names: Sequence[str], place: str) -> str:
    words = {"file": names[0], "folder": place}
    if len(names) == 1:
        return say(
            "{file} is already in {folder}; choose another folder, or tick Replace files of the "
            "same name (--overwrite true).",
            **words,
        )
    return say(
        "{file} and {number} more files are already in {folder}; choose another folder, or tick "
        "Replace files of the same name (--overwrite true).",
        number=len(names) - 1,
        **words,
    )


class SavedCopy(Action):
    """A file of another kind instead of the drawing: `work` gives an outcome with one file.

    The host takes the bytes from standard output; from a shell `--output` names a file. Nothing
    is said when it went well.
    """

    def draw(self, root: object, drawing: object, outcome: Outcome) -> None:
        """Nothing: the drawing stays as it is."""

    def _hand_back(self, outcome: Outcome) -> None:
        (data,) = outcome.files.values()  # type: ignore[attr-defined]
        if self.options.output is not None:
            write_all({self.options.output: data})
        elif sys.stdout is not None:
            sys.stdout.buffer.write(data)
            sys.stdout.flush()
