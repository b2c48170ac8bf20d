"""Finding and reading profile files: the only input of the pure package.

parts.toml <- hand-laid.toml <- ... <- the maker's own file <- the card's own settings
materials.toml (read only when a layer or an action needs it) lies beside parts.toml.

Paths are strings inside: pathlib costs 2 ms of every start.
"""

from __future__ import annotations

import os.path
import tomllib
from collections.abc import Mapping
from functools import cache, partial
from typing import TYPE_CHECKING, Any

from ..errors import UnusableProfile
from ..language import later, say
from .layers import Layer, lay_over, to_profile
from .profile import Profile

if TYPE_CHECKING:
    from pathlib import Path

    from .materials import Materials

DEFAULT = "hand-laid"

#: Shipped profiles, each with the one that it is based on.
SHIPPED = ("hand-laid", "hand-laid-cautious", "classroom", "machine-cut")

#: What errors call the values that are stored in the drawing.
SETTINGS = later("The card's own settings")

#: No sensible profile is larger (bytes).
LARGEST_FILE = 1_000_000

#: Tables of materials.toml.
MATERIALS = frozenset({"holders", "press", "sheets", "diffusers", "foams", "post", "cutter"})

HERE = os.path.dirname(__file__)


def shipped_names() -> tuple[str, ...]:
    """Names of the profiles that come with the tool, the default first."""
    return SHIPPED


def load_profile(
    name_or_path: str | None,
    settings: Mapping[str, object] | None = None,
    folder: str | Path | None = None,
) -> Profile:
    """The profile of that name or file (None: the default) with a card's settings laid over.

    A relative path counts from `folder`, the drawing's own. `settings` has the shape of a
    profile file; its `based-on` counts where no profile is named. Raises UnusableProfile with
    file, key and what was expected.
    """
    shown, _, merged = merge_layers(name_or_path, settings, folder)
    return to_profile(shown, merged, cache(partial(_materials_of, merged)))


def merge_layers(
    name_or_path: str | None,
    settings: Mapping[str, object] | None,
    folder: str | Path | None,
) -> tuple[str, str, dict[str, Any]]:
    """(name for the report, shipped profile at the bottom, all layers in one).

    Arguments and errors as of `load_profile`.
    """
    if settings is not None and not isinstance(settings, Mapping):
        raise UnusableProfile(
            say("The card's own settings must be a table of tables; they are something else.")
        )
    own = settings or {}
    name = _choose(name_or_path, own)
    if name in SHIPPED:
        shown, bottom, merged = name, name, shipped_layer(name)
    else:
        start = "" if folder is None else str(folder)
        shown, bottom, merged = _load_file(_find(name, start, say("The profile")), ())
    if own:
        merged = _lay_checked(say(SETTINGS), own, merged)
    return shown, bottom, merged


def _materials_of(merged: Layer) -> Materials:
    from .materials import to_materials  # late: few actions need them

    return to_materials({**material_tables(), **merged})


@cache
def material_tables() -> dict[str, Any]:
    """The tables of materials.toml."""
    return _parse(os.path.join(HERE, "materials.toml"))


def _choose(name: str | None, settings: Mapping[str, object]) -> str:
    base = settings.get("based-on")
    if base is None:
        return name or DEFAULT
    if not isinstance(base, str):
        raise UnusableProfile(
            say("The card's own settings: based-on must be the name or file of a profile.")
        )
    if name and name != base:
        raise UnusableProfile(
            say(
                "The card's own settings say based-on = \"{base}\", but the card's profile is "
                '"{name}". Take based-on out of the settings.',
                base=base,
                name=name,
            )
        )
    return base


@cache
def shipped_layer(name: str) -> dict[str, Any]:
    """A shipped profile over those below it; trusted, since the tests hold it to the schema."""
    layer = _parse(os.path.join(HERE, f"{name}.toml"))
    if "based-on" in layer:
        return lay_over(shipped_layer(layer["based-on"]), layer)
    return lay_over(lay_over({}, _parse(os.path.join(HERE, "parts.toml"))), layer)


def _load_file(path: str, above: tuple[str, ...]) -> tuple[str, str, dict[str, Any]]:
    """(name for the report, shipped profile below, merged layers) of a maker's own file."""
    label = os.path.basename(path)
    if path in above:
        ring = (*above[above.index(path) :], path)
        names = " <- ".join(f'"{os.path.basename(one)}"' for one in ring)
        raise UnusableProfile(
            say(
                "{label}: these profiles are based on each other in a circle: {names}. "
                'Base one of them on "{default}".',
                label=label,
                names=names,
                default=DEFAULT,
            )
        )
    layer = _parse(path)
    base = layer.get("based-on", DEFAULT)
    if not isinstance(base, str):
        raise UnusableProfile(
            say("{label}: based-on must be the name or file of a profile, in quotes.", label=label)
        )
    if base in SHIPPED:
        bottom, lower = base, shipped_layer(base)
    else:
        found = _find(base, os.path.dirname(path), f"{label}: based-on")
        _, bottom, lower = _load_file(found, (*above, path))
    return label, bottom, _lay_checked(label, layer, lower)


def _lay_checked(label: str, layer: Mapping[str, object], lower: Layer) -> dict[str, Any]:
    from .checking import check_layer, settle  # late: shipped profiles alone need no check

    if not MATERIALS.isdisjoint(layer) or "stack" in layer:
        lower = {**material_tables(), **lower}
    checked = check_layer(label, layer, lower)
    return settle(label, checked, lay_over(lower, checked))


def _find(name: str, folder: str, who: str) -> str:
    """The file behind a name that is no shipped profile."""
    path, what = name, say("the file {path} cannot be looked for", path=name)
    if "\0" not in name:
        path = os.path.realpath(os.path.join(folder, os.path.expanduser(name)))
        if os.path.isfile(path):
            return path
        if os.path.isdir(path):
            what = say("the file {path} is a folder", path=path)
        else:
            what = say("the file {path} is not there", path=path)
    from .refusing import near_miss, shown  # late: only a slip needs it

    raise UnusableProfile(
        say(
            "{who} must be one of {names}, or a file of your own; it is {name}{hint}, and {what}.",
            who=who,
            names=", ".join(SHIPPED),
            name=shown(name),
            hint=near_miss(name, SHIPPED),
            what=what,
        )
    )


def _parse(path: str) -> dict[str, Any]:
    """The tables of one TOML file. Raises UnusableProfile."""
    label = os.path.basename(path)
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except OSError as error:
        reason = error.strerror or say("unknown reason")
        raise UnusableProfile(
            say("{label} cannot be read ({reason}): {path}", label=label, reason=reason, path=path)
        ) from None
    if len(data) > LARGEST_FILE:
        raise UnusableProfile(
            say("{label} is too large for a profile; is it the right file?", label=label)
        )
    try:
        return tomllib.loads(data.decode("utf-8").removeprefix("\ufeff"))
    except UnicodeDecodeError:
        raise UnusableProfile(say("{label} must be saved as UTF-8 text.", label=label)) from None
    except (ValueError, RecursionError) as error:
        from .refusing import reading_fault  # late: only a slip needs it

        raise UnusableProfile(
            say(
                "{label} is not written as a profile is (lines like smallest-gap = 1.5 under "
                "[limits]): {error}.",
                label=label,
                error=reading_fault(error),
            )
        ) from None
