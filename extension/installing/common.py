"""What all of installing needs: words for what goes wrong, running programs, removing folders."""

from __future__ import annotations

import contextlib
import os
import shutil
import stat
import subprocess
from collections.abc import Iterator, Sequence

import launch


class Trouble(Exception):
    """One or two plain sentences: what is wrong and what to do."""


@contextlib.contextmanager
def telling_why(folder: str) -> Iterator[None]:
    """Turn the system's refusal to write into words."""
    try:
        yield
    except OSError as fault:
        reason = fault.strerror or type(fault).__name__
        raise Trouble(
            f"{folder} cannot be written ({reason}). Do you own it, and is there room?"
        ) from None


def remove_tree(folder: str) -> None:
    """Remove a folder that may hold read-only files."""
    if not os.path.isdir(folder):
        return
    with telling_why(folder):
        for path, _, names in os.walk(folder):
            for name in names:
                whole = os.path.join(path, name)
                if not os.path.islink(whole) and not os.access(whole, os.W_OK):
                    os.chmod(whole, stat.S_IREAD | stat.S_IWRITE)
        shutil.rmtree(folder)


def run(command: list[str], seconds: int | None = None) -> subprocess.CompletedProcess[str]:
    """Run a program with its output caught, away from any foreign Python settings."""
    return subprocess.run(
        command,
        check=False,
        capture_output=True,
        encoding="utf-8",
        errors="replace",
        stdin=subprocess.DEVNULL,
        env=launch.clean(dict(os.environ)),
        timeout=seconds,
    )


def runs(python: str, code: str) -> bool:
    try:
        return run([python, "-c", code]).returncode == 0
    except OSError:
        return False


def dotted(version: Sequence[object]) -> str:
    return ".".join(str(part) for part in version)
