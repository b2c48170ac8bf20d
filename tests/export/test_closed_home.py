"""Files for a cutter where the maker's home is closed to programs."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from .exported import ROOT
from .test_action import SCRIPT, names

#: The action itself, in a home of which nothing can be looked at (also by the one user whom
#: permissions do not stop).
CLOSED = """
import pathlib, runpy, sys
looked = pathlib.Path.exists
def exists(path, **more):
    if "closed-home" in str(path):
        raise PermissionError(13, "Permission denied", str(path))
    return looked(path, **more)
pathlib.Path.exists = exists
runpy.run_path(sys.argv[0], run_name="__main__")
"""


@pytest.mark.parametrize("told", [{}, {"XDG_CONFIG_HOME": "/closed-home/etc"}])
def test_files_are_written_and_nothing_is_said_of_it(
    garden: Path, folder: Path, told: dict[str, str]
) -> None:
    home = {"HOME": "/closed-home", "USERPROFILE": "/closed-home", **told}
    start = f"import sys; sys.argv[0], sys.path[0] = {str(SCRIPT)!r}, {str(SCRIPT.parent)!r}"
    command = [sys.executable, "-c", start + CLOSED, str(garden), "--folder", str(folder)]
    command += ["--output", str(folder / "out.svg"), "--formats", "dxf,dxf-r12"]
    done = subprocess.run(
        command,
        env={**os.environ, **home},
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert "Permission denied" not in done.stderr + done.stdout
    assert done.returncode == 0, done.stderr
    assert any(name.endswith(".dxf") for name in names(folder))
