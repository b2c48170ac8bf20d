"""The launcher: its own environment, clean variables, plain sentences."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import launch

EXTENSION = Path(launch.__file__).parent

ACTION = """
import launch
with launch.environment():
    import {needs}
import os, sys
print(sys.prefix)
print(sorted(k for k in os.environ if k.startswith(("PYTHON", "DYLD_", "LD_LIBRARY"))))
print(sys.argv[1:], sys.stdin.read(), sys.flags.utf8_mode)
sys.exit(7)
"""


@pytest.fixture
def installed(tmp_path: Path) -> Path:
    """A folder with the launcher and one action script, as in the editor."""
    folder = tmp_path / "extensions" / "underlit"
    folder.mkdir(parents=True)
    (folder / "launch.py").write_bytes((EXTENSION / "launch.py").read_bytes())
    (folder / "act.py").write_text(ACTION.format(needs="json"), encoding="utf-8")
    return folder


def point(folder: Path, environment: Path | str) -> None:
    (folder / launch.POINTER).write_text(f"{environment}\n", encoding="utf-8")


def start(folder: Path, *arguments: str, python: str = sys.executable, **variables: str):
    """Run the action as the host does: its own Python, its own variables."""
    host = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    return subprocess.run(
        [python, "act.py", *arguments],
        cwd=folder,
        env={**host, **variables},
        input="drawing",
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )


@pytest.fixture
def other_python(tmp_path: Path) -> Path:
    """A bare environment of its own, to stand for the private one."""
    folder = tmp_path / "private environment"
    command = [sys.executable, "-m", "venv", "--without-pip", str(folder)]
    subprocess.run(command, check=True, timeout=60)
    return folder


def test_starts_again_in_the_private_environment(installed: Path, other_python: Path) -> None:
    point(installed, other_python)
    run = start(installed, "--gap=3.5", "in file.svg")
    assert run.stderr == ""
    assert run.stdout.splitlines() == [
        str(other_python),
        "[]",
        "['--gap=3.5', 'in file.svg'] drawing 1",
    ]
    assert run.returncode == 7


def test_drops_what_belongs_to_the_hosts_python(installed: Path, other_python: Path) -> None:
    point(installed, other_python)
    foreign = {"PYTHONPATH": str(installed), "PYTHONUNBUFFERED": "1", "DYLD_INSERT": "x"}
    run = start(installed, **foreign, LD_LIBRARY_PATH=str(installed))
    assert run.stdout.splitlines()[:2] == [str(other_python), "[]"]


def test_goes_on_in_place_when_it_runs_there_already(installed: Path) -> None:
    point(installed, sys.prefix)
    run = start(installed, PYTHONUNBUFFERED="1")
    assert run.stdout.splitlines()[1] == "['PYTHONUNBUFFERED']"  # not started a second time


def test_goes_on_in_place_without_a_pointer(installed: Path) -> None:
    run = start(installed, PYTHONUNBUFFERED="1")
    assert run.stdout.splitlines()[:2] == [sys.prefix, "['PYTHONUNBUFFERED']"]


@pytest.mark.parametrize("environment", ["/nowhere/at all", ""])
def test_missing_environment_is_one_sentence(installed: Path, environment: str) -> None:
    point(installed, environment)
    run = start(installed)
    assert run.returncode == 1
    assert run.stdout == ""
    assert run.stderr == launch.SETUP.format(what="its Python environment is missing") + "\n"


def test_broken_environment_is_one_sentence(installed: Path, other_python: Path) -> None:
    point(installed, other_python)
    (other_python / "pyvenv.cfg").unlink()  # then it is no environment any more
    run = start(installed)
    assert run.returncode == 1
    assert run.stderr == launch.SETUP.format(what="its Python environment is broken") + "\n"


@pytest.mark.parametrize(
    ("needs", "what"),
    [
        ("shapelier", "its Python environment lacks shapelier"),
        ("underlit.rules", "a part of it is missing (underlit)"),
    ],
)
def test_missing_library_is_named(installed: Path, needs: str, what: str) -> None:
    (installed / "act.py").write_text(ACTION.format(needs=needs), encoding="utf-8")
    run = start(installed)
    assert run.returncode == 1
    assert run.stderr == launch.SETUP.format(what=what) + "\n"


def test_it_is_said_in_the_makers_language(installed: Path, catalogs: Path) -> None:
    """Whatever encoding the host's Python writes by itself."""
    shutil.copytree(catalogs, installed / "locale")
    point(installed, "/nowhere/at all")
    run = start(installed, LANGUAGE="de", PYTHONIOENCODING="cp1252")
    assert run.stderr.startswith(
        "Underlit ist noch nicht startklar: seine Python-Umgebung fehlt. Führe in dem Ordner"
    )
    (installed / "act.py").write_text(ACTION.format(needs="shapelier"), encoding="utf-8")
    (installed / launch.POINTER).unlink()
    assert "in seiner Python-Umgebung fehlt shapelier." in start(installed, LANGUAGE="de").stderr


def test_faults_of_our_own_inside_the_block_are_not_hidden() -> None:
    with pytest.raises(ZeroDivisionError), launch.environment():
        raise ZeroDivisionError


def test_too_old_python_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end, launch.environment():
        raise SyntaxError("new syntax")
    assert end.value.code == 1
    assert "needs Python 3.11 or newer" in capsys.readouterr().err


def test_windows_paths_and_child(monkeypatch: pytest.MonkeyPatch) -> None:
    assert launch.python_of("E", windows=True) == os.path.join("E", "Scripts", "python.exe")
    assert launch.python_of("E", windows=False) == os.path.join("E", "bin", "python")
    seen: dict[str, object] = {}

    def call(command, **given):
        seen.update(given, command=command)
        return 3

    monkeypatch.setattr(subprocess, "call", call)
    assert launch._child(["python", "act.py"], {"A": "1"}) == 3
    assert seen["creationflags"] == 0x08000000
    assert (seen["stdout"], seen["stderr"]) == (sys.stdout, sys.stderr)


#: What runs before there is an environment.
EARLY = ["launch.py", "install.py"]
EARLY += [f"installing/{path.name}" for path in sorted((EXTENSION / "installing").glob("*.py"))]


@pytest.mark.parametrize("name", [*EARLY, "validate_card.py"])
def test_old_pythons_can_read_the_file(name: str) -> None:
    ast.parse((EXTENSION / name).read_text(encoding="utf-8"), feature_version=(3, 8))


@pytest.mark.parametrize("name", EARLY)
def test_only_the_standard_library(name: str) -> None:
    tree = ast.parse((EXTENSION / name).read_text(encoding="utf-8"))
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level:
            found.add((node.module or "").split(".")[0])
    assert found <= set(sys.stdlib_module_names) | {"launch", "installing"}
