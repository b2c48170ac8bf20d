"""The installer: what it makes, what it says, what it leaves alone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import install
import launch
from installing import editor, environment

SCRIPT = Path(install.__file__)


def run(*arguments: object, **variables: str) -> subprocess.CompletedProcess[str]:
    """The installer as a maker starts it."""
    return subprocess.run(
        [sys.executable, str(SCRIPT), *map(str, arguments)],
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A small copy of the extension folder, so that no test waits for the whole."""
    folder = tmp_path / "copy"
    (folder / "underlit" / "profiles").mkdir(parents=True)
    (folder / "underlit_host").mkdir()
    (folder / "icons").mkdir()
    (folder / "symbols").mkdir()
    (folder / "underlit" / "__init__.py").write_text('__version__ = "9.8"\n')
    (folder / "underlit" / "profiles" / "one.toml").write_text("[limits]\n")
    (folder / "underlit" / "__pycache__").mkdir()
    (folder / "underlit" / "__pycache__" / "old.pyc").write_text("")
    for name in ("a.inx", "a.py", "launch.py", "install.py", "notes.txt", "underlit_host/x.py"):
        (folder / name).write_text("")
    (folder / "symbols" / "lights.svg").write_text("<svg/>")
    monkeypatch.setattr(install, "HERE", str(folder))
    return folder


@pytest.fixture
def ready(monkeypatch: pytest.MonkeyPatch) -> None:
    """An environment that needs nothing: the present one."""
    monkeypatch.setattr(install, "make_environment", lambda folder, requirements: None)


def names(folder: Path) -> set[str]:
    """Files below a folder, bytecode left out."""
    files = (p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file())
    return {name for name in files if not name.endswith(".pyc")}


def install_into(data: Path) -> int:
    return install.main(["--user-data", str(data), "--env", sys.prefix])


@pytest.mark.usefixtures("here", "ready")
def test_copies_what_the_host_needs_and_nothing_else(tmp_path: Path) -> None:
    assert install_into(tmp_path / "data") == 0
    assert names(tmp_path / "data") == {
        "extensions/underlit/a.inx",
        "extensions/underlit/a.py",
        "extensions/underlit/launch.py",
        "extensions/underlit/environment.txt",
        "extensions/underlit/underlit/__init__.py",
        "extensions/underlit/underlit/profiles/one.toml",
        "extensions/underlit/underlit_host/x.py",
        "symbols/underlit/lights.svg",
    }
    folder = tmp_path / "data" / "extensions" / "underlit"
    assert launch.named_environment(str(folder)) == sys.prefix
    assert list((folder / "underlit" / "__pycache__").glob("__init__.*.pyc"))
    assert not (folder / "underlit" / "__pycache__" / "old.pyc").exists()


@pytest.mark.usefixtures("ready")
def test_installing_again_replaces_the_old_copy(here: Path, tmp_path: Path) -> None:
    install_into(tmp_path / "data")
    (here / "a.py").unlink()
    (here / "b.py").write_text("")
    install_into(tmp_path / "data")
    found = names(tmp_path / "data" / "extensions" / "underlit")
    assert "b.py" in found
    assert "a.py" not in found


@pytest.mark.usefixtures("here", "ready")
def test_a_foreign_folder_of_our_name_is_left_alone(tmp_path: Path, capsys) -> None:
    folder = tmp_path / "data" / "extensions" / "underlit"
    folder.mkdir(parents=True)
    (folder / "mine.py").write_text("mine")
    assert install_into(tmp_path / "data") == 1
    assert names(folder) == {"mine.py"}
    assert "move it away" in capsys.readouterr().err
    assert install.main(["--uninstall", "--user-data", str(tmp_path / "data")]) == 1
    assert names(folder) == {"mine.py"}


@pytest.mark.usefixtures("here", "ready")
def test_a_link_to_a_working_copy_is_unlinked_not_emptied(tmp_path: Path) -> None:
    working = tmp_path / "working"
    working.mkdir()
    (working / "kept.py").write_text("kept")
    (tmp_path / "data" / "extensions").mkdir(parents=True)
    folder = tmp_path / "data" / "extensions" / "underlit"
    folder.symlink_to(working)
    assert install_into(tmp_path / "data") == 0
    assert (working / "kept.py").read_text() == "kept"
    assert not folder.is_symlink()


@pytest.mark.usefixtures("here", "ready")
def test_uninstall_removes_everything_of_ours(tmp_path: Path) -> None:
    environment = tmp_path / "environment"
    environment.mkdir()
    (environment / install.MADE_HERE).write_text("")
    data = tmp_path / "data"
    (data / "extensions" / "other").mkdir(parents=True)
    (data / "extensions" / "other" / "other.inx").write_text("")
    assert install.main(["--user-data", str(data), "--env", str(environment)]) == 0
    assert install.main(["--uninstall", "--user-data", str(data)]) == 0
    assert names(data) == {"extensions/other/other.inx"}
    assert not environment.exists()
    assert install.main(["--uninstall", "--user-data", str(data), "--env", str(environment)]) == 0


def test_uninstall_leaves_an_environment_that_it_did_not_make(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "kept").write_text("")
    done = run("--uninstall", "--no-editor", "--env", tmp_path / "mine")
    assert done.returncode == 0
    assert (tmp_path / "mine" / "kept").exists()
    assert "Left alone" in done.stdout


def test_check_says_what_is_there_and_what_is_missing(tmp_path: Path) -> None:
    done = run("--check", "--user-data", tmp_path, "--env", tmp_path / "nothing")
    assert done.returncode == 1
    assert f"Underlit {install.own_version(install.HERE)}" in done.stdout
    assert "Python environment: none" in done.stdout
    assert f"Missing: the menu entries in {tmp_path}/extensions/underlit." in done.stdout
    assert done.stderr == ""


def test_check_of_the_present_environment_finds_everything() -> None:
    done = run("--check", "--no-editor", "--env", sys.prefix)
    assert (done.returncode, done.stderr) == (0, "")
    for text in environment.ALONE + environment.LIBRARIES:
        assert f"  {text.split('>')[0].split('=')[0]} " in done.stdout
    assert done.stdout.endswith("Everything is there.\n")


def test_wrong_and_missing_versions_are_told() -> None:
    found = environment.probe(sys.executable, ["numpy>=99", "nowhere-to-be-found>=1", "numpy>=1"])
    assert found["nowhere-to-be-found"] == "-"
    assert environment.probe(sys.executable, ["numpy>=99"])["numpy"].endswith("!")
    assert not environment.is_whole(sys.executable, ["numpy>=99"])


def test_a_whole_environment_is_left_as_it_is(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    def never(*arguments: object) -> None:
        raise AssertionError("pip was run")

    monkeypatch.setattr(environment, "_pip", never)
    assert install.main(["--no-editor", "--env", sys.prefix]) == 0
    assert capsys.readouterr().out == f"Python environment ready: {sys.prefix}\n"


def test_a_folder_with_other_things_is_no_environment(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_text("")
    done = run("--no-editor", "--env", tmp_path)
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "not empty" in done.stderr
    assert names(tmp_path) == {"photo.jpg"}


def test_old_python_is_told_in_words(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    monkeypatch.setattr(environment.shutil, "which", lambda name: name == "python3.12")
    assert install.main(["--no-editor", "--env", "unused"]) == 1
    told = capsys.readouterr().err
    assert "needs Python 3.11 or newer; this is 3.9" in told
    assert "You have python3.12: use that instead." in told


def test_missing_venv_part_is_told_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ensurepip", None)  # then importing it fails
    with pytest.raises(install.Trouble, match="apt install python3-venv"):
        environment.check_venv()


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("Failed to establish a new connection: [Errno -3] name resolution", "internet"),
        ("ERROR: No matching distribution found for numpy (from versions: none)", "internet"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("[Errno 13] Permission denied: 'x'", "cannot be written"),
        ("ERROR: something else", "could not be installed: ERROR: something else"),
    ],
)
def test_what_pip_says_is_put_in_words(said: str, meant: str) -> None:
    assert meant in environment.pip_trouble(said)


def test_no_network_is_told_in_words(tmp_path: Path) -> None:
    nowhere = {"PIP_INDEX_URL": "http://127.0.0.1:9/simple", "PIP_NO_CACHE_DIR": "1"}
    alone = {**nowhere, "PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": str(tmp_path)}
    done = run("--no-editor", "--env", tmp_path / "env", **alone)
    assert done.returncode == 1
    assert "is this computer connected to the internet?" in done.stderr
    assert "Traceback" not in done.stderr


def test_no_inkscape_is_told_in_words(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("INKSCAPE_PROFILE_DIR", raising=False)
    monkeypatch.setattr(editor, "find_inkscape", lambda: None)
    monkeypatch.setattr(editor, "usual_user_folders", lambda: [str(tmp_path / "none")])
    with pytest.raises(install.Trouble, match="cannot find Inkscape"):
        editor.user_data(None)


def test_user_folder_is_the_given_one_then_the_profile_then_what_is_there(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(editor, "find_inkscape", lambda: None)
    monkeypatch.setattr(editor, "usual_user_folders", lambda: ["/none", str(tmp_path)])
    monkeypatch.setenv("INKSCAPE_PROFILE_DIR", "/profile")
    assert editor.user_data("/given") == "/given"
    assert editor.user_data(None) == "/profile"
    monkeypatch.delenv("INKSCAPE_PROFILE_DIR")
    assert editor.user_data(None) == str(tmp_path)


def test_usual_places_of_other_systems(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    assert "/Applications/Inkscape.app/Contents/MacOS/inkscape" in editor.usual_programs()
    assert "org.inkscape.Inkscape/config/inkscape" in editor.usual_user_folders()[0]
    assert "Application Support" in install.default_environment()
    monkeypatch.setattr(install.os, "name", "nt")
    monkeypatch.setenv("ProgramFiles", "C:/Program Files")
    monkeypatch.setenv("APPDATA", "C:/Roaming")
    monkeypatch.setenv("LOCALAPPDATA", "C:/Local")
    places = editor.usual_programs(), editor.usual_user_folders(), install.default_environment()
    monkeypatch.undo()
    assert "C:/Program Files/Inkscape/bin/inkscape.com" in places[0]
    assert places[1:] == (["C:/Roaming/inkscape"], "C:/Local/underlit/environment")


@pytest.mark.usefixtures("ready")
def test_symbols_come_and_go_and_a_makers_own_stay(here: Path, tmp_path: Path, capsys) -> None:
    data, folder = tmp_path / "data", tmp_path / "data" / "symbols" / "underlit"
    folder.mkdir(parents=True)
    (folder / "mine.svg").write_text("mine")
    install_into(data)
    assert names(folder) == {"lights.svg", "mine.svg"}
    asked = ["--check", "--user-data", str(data), "--env", sys.prefix]
    install.main(asked)
    assert f"Parts for the symbols panel: {folder}\n" in capsys.readouterr().out
    (here / "symbols" / "lights.svg").write_text("<svg>new</svg>")
    assert install.main(asked) == 1
    assert f"Missing: this version's parts for the symbols panel in {folder}." in (
        capsys.readouterr().out
    )
    install_into(data)
    assert (folder / "lights.svg").read_text() == "<svg>new</svg>"
    assert install.main(["--uninstall", "--user-data", str(data), "--env", str(here)]) == 0
    assert names(folder) == {"mine.svg"}


@pytest.mark.slow
def test_a_fresh_environment_runs(tmp_path: Path) -> None:
    """Needs the package index."""
    environment = tmp_path / "env"
    done = run("--no-editor", "--env", environment)
    assert (done.returncode, done.stderr) == (0, "")
    code = "import inkex, shapely, numpy, networkx; print(inkex.__version__)"
    python = launch.python_of(str(environment))
    probe = subprocess.run([python, "-c", code], capture_output=True, text=True, check=True)
    assert probe.stdout.startswith("1.4")
