"""Our files in Inkscape's user folder: copied, compiled, compared, removed."""

from __future__ import annotations

import contextlib
import filecmp
import os
import shutil

import launch

from .common import Trouble, remove_tree, runs, telling_why

#: What the host needs of the extension's folder.
SCRIPTS = (".inx", ".py", ".mo")
PACKAGES = ("underlit", "underlit_host", "cards", "icons", "locale")
NOT_FOR_HOST = ("install.py",)


def copy_extension(ours: str, folder: str, environment: str) -> None:
    """Put everything of our folder that the host needs into a new one, then swap it in."""
    check_ours(folder)
    fresh = f"{folder}.new"
    with telling_why(folder):
        remove_tree(fresh)
        os.makedirs(fresh)
        for name in sorted(os.listdir(ours)):
            source = os.path.join(ours, name)
            if name in PACKAGES and os.path.isdir(source):
                rubbish = shutil.ignore_patterns("__pycache__", ".*")
                shutil.copytree(source, os.path.join(fresh, name), ignore=rubbish)
            elif name.endswith(SCRIPTS) and name not in NOT_FOR_HOST:
                shutil.copy2(source, fresh)
        with open(os.path.join(fresh, launch.POINTER), "w", encoding="utf-8") as file:
            file.write(f"{environment}\n")
        remove_extension(folder)
        os.rename(fresh, folder)
    compile_all(folder, environment)


def compile_all(folder: str, environment: str) -> None:
    """Bytecode beside our files: without it every start takes half a second longer."""
    runs(launch.python_of(environment), f"import compileall; compileall.compile_dir({folder!r})")


def remove_extension(folder: str) -> None:
    """Remove our folder; a link to a working copy is unlinked, never followed."""
    check_ours(folder)
    if os.path.islink(folder):
        os.unlink(folder)
    else:
        remove_tree(folder)


def symbols_folder(folder: str) -> str:
    """Our folder among the user's symbols, from our folder among the extensions."""
    return os.path.join(os.path.dirname(os.path.dirname(folder)), "symbols", "underlit")


def symbols_of(ours: str) -> list[str]:
    """Names of the symbol files that we bring."""
    source = os.path.join(ours, "symbols")
    return sorted(os.listdir(source)) if os.path.isdir(source) else []


def copy_symbols(ours: str, folder: str) -> None:
    """Symbols go where the host's symbols panel looks; what else lies there stays."""
    target = symbols_folder(folder)
    for name in symbols_of(ours):
        with telling_why(target):
            os.makedirs(target, exist_ok=True)
            shutil.copy2(os.path.join(ours, "symbols", name), target)


def remove_symbols(ours: str, folder: str) -> None:
    """Take our symbols away, and their folder if nothing else lies there."""
    target = symbols_folder(folder)
    for name in symbols_of(ours):
        with telling_why(target), contextlib.suppress(FileNotFoundError):
            os.unlink(os.path.join(target, name))
    with contextlib.suppress(OSError):
        os.rmdir(target)


def has_symbols(ours: str, folder: str) -> bool:
    """Whether the host has exactly our symbols."""
    source, target = os.path.join(ours, "symbols"), symbols_folder(folder)
    _, other, lost = filecmp.cmpfiles(source, target, symbols_of(ours), shallow=False)
    return not other and not lost


def own_version(folder: str) -> str:
    """Version of the package in a folder, without importing it."""
    try:
        with open(os.path.join(folder, "underlit", "__init__.py"), encoding="utf-8") as file:
            line = next(line for line in file if line.startswith("__version__"))
    except (OSError, StopIteration):
        return "of unknown version"
    return line.split('"')[1]


def check_ours(folder: str) -> None:
    """Raise Trouble where a folder of our name holds something else."""
    if not os.path.isdir(folder) or os.path.islink(folder) or not os.listdir(folder):
        return
    if not os.path.isfile(os.path.join(folder, launch.POINTER)):
        raise Trouble(f"{folder} holds something else than Underlit; move it away first.")
