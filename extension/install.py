"""Sets Underlit up: its private Python environment, and the entries in Inkscape's menu.

    python3 extension/install.py                         set up and install into Inkscape
    python3 extension/install.py --check                 say what is there and what is missing
    python3 extension/install.py --uninstall             take everything away again
    python3 extension/install.py --env DIR --no-editor   only the environment, in DIR

Standard library only, and readable by Python 3.8, so that an old Python can be told in words.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

import launch
from installing.common import Trouble, dotted, remove_tree
from installing.copying import (
    compile_all,
    copy_extension,
    copy_symbols,
    has_symbols,
    own_version,
    remove_extension,
    remove_symbols,
    symbols_folder,
)
from installing.editor import extension_folder, find_inkscape
from installing.environment import (
    MADE_HERE,
    OLDEST_PYTHON,
    check_python,
    default_environment,
    make_environment,
    probe,
    wanted,
)

HERE = os.path.dirname(os.path.abspath(__file__))


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; returns the exit code."""
    options = read_options(arguments)
    try:
        if options.check:
            return check(options)
        if options.uninstall:
            uninstall(options)
        else:
            install(options)
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped. Run it again to finish.", file=sys.stderr)
        return 1
    return 0


def read_options(arguments: Sequence[str] | None) -> argparse.Namespace:
    """The command line."""
    parser = argparse.ArgumentParser(prog="install.py", description=__doc__.split("\n")[0])
    parser.add_argument("--check", action="store_true", help="only say what is there")
    parser.add_argument("--uninstall", action="store_true", help="take everything away again")
    parser.add_argument("--env", metavar="DIR", help="folder of the private environment")
    parser.add_argument("--no-editor", action="store_true", help="leave Inkscape alone")
    parser.add_argument("--user-data", metavar="DIR", help="Inkscape's user folder")
    parser.add_argument("--dev", action="store_true", help="also what the tests need")
    options = parser.parse_args(arguments)
    options.given_env = options.env is not None
    options.env = os.path.abspath(os.path.expanduser(options.env or default_environment()))
    return options


def install(options: argparse.Namespace) -> None:
    """Environment first, so that the menu entries work as soon as they are there."""
    check_python()
    folder = None if options.no_editor else extension_folder(options.user_data)
    make_environment(options.env, wanted(options.dev))
    compile_all(HERE, options.env)
    print(f"Python environment ready: {options.env}")
    if folder is not None:
        copy_extension(HERE, folder, options.env)
        copy_symbols(HERE, folder)
        print(f"Installed: {folder}")
        print("Start Inkscape again; the entries stand under Extensions > Underlit.")


def check(options: argparse.Namespace) -> int:
    """Print what is there; 0 when nothing is missing."""
    faults: list[str] = []
    print(f"Underlit {own_version(HERE)}")
    print(f"Python {dotted(sys.version_info[:3])} ({sys.executable})")
    folder = None
    if not options.no_editor:
        folder = _check_editor(options, faults)
    environment = options.env
    if folder is not None and not options.given_env:
        environment = launch.named_environment(folder) or environment
    runs = _check_environment(environment, wanted(options.dev), faults)
    if not runs and sys.version_info[:2] < OLDEST_PYTHON:
        faults.append(f"Python {dotted(OLDEST_PYTHON)} or newer to make one with")
    for fault in faults:
        print(f"Missing: {fault}.")
    print("Run extension/install.py to set this right." if faults else "Everything is there.")
    return 1 if faults else 0


def uninstall(options: argparse.Namespace) -> None:
    """Remove the menu entries, and the environment if this script made it."""
    environment = options.env
    if not options.no_editor:
        folder = extension_folder(options.user_data)
        if not options.given_env:
            environment = launch.named_environment(folder) or environment
        remove_extension(folder)
        remove_symbols(HERE, folder)
        print(f"Removed: {folder}")
    if os.path.isfile(os.path.join(environment, MADE_HERE)):
        remove_tree(environment)
        print(f"Removed: {environment}")
    elif os.path.isdir(environment):
        print(f"Left alone, since it was not made by this script: {environment}")


def _check_editor(options: argparse.Namespace, faults: list[str]) -> str | None:
    try:
        folder = extension_folder(options.user_data)
    except Trouble as trouble:
        faults.append(str(trouble).rstrip("."))
        return None
    program = find_inkscape()
    print(f"Inkscape: {program or 'not found'}")
    if program is None:
        faults.append("Inkscape itself")
    pointer = launch.named_environment(folder)
    if pointer is None:
        faults.append(f"the menu entries in {folder}")
        return folder
    print(f"Menu entries: {folder}, version {own_version(folder)}")
    if own_version(folder) != own_version(HERE):
        faults.append(f"version {own_version(HERE)} in {folder}")
    symbols = symbols_folder(folder)
    if has_symbols(HERE, folder):
        print(f"Parts for the symbols panel: {symbols}")
    else:
        faults.append(f"this version's parts for the symbols panel in {symbols}")
    return folder


def _check_environment(folder: str, requirements: Sequence[str], faults: list[str]) -> bool:
    """Whether an environment runs at all; what it lacks goes to `faults`."""
    versions = probe(launch.python_of(folder), requirements)
    print(f"Python environment: {folder}" if versions else "Python environment: none")
    if not versions:
        faults.append(f"a Python environment that runs in {folder}")
    for name, version in versions.items():
        print(f"  {name} {version.rstrip('!')}")
        if version == "-" or version.endswith("!"):
            need = next(text for text in requirements if text.startswith(name))
            faults.append(f"{need} in the Python environment")
    return bool(versions)


if __name__ == "__main__":
    sys.exit(main())
