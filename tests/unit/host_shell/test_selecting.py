"""Selecting after the fact: only in an editor that can be asked, and only when it is ready."""

from __future__ import annotations

import subprocess
import sys
import threading
from pathlib import Path

import pytest

from underlit_host import selecting


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """A bus on which the host is there; what it is asked is written down."""
    calls: list[list[str]] = []

    def run(command, **_):
        calls.append(command[command.index("--method") + 1 :])
        return subprocess.CompletedProcess(command, 0, stdout="(true,)\n")

    monkeypatch.setattr(selecting.subprocess, "run", run)
    monkeypatch.setattr(selecting, "PAUSE", 0.01)
    return calls


def test_selects_as_soon_as_the_copy_is_gone(tmp_path: Path, asked: list[list[str]]) -> None:
    copy = tmp_path / "copy.svg"
    copy.write_text("")
    threading.Timer(0.2, copy.unlink).start()
    assert selecting.select_when_gone(str(copy), ["strip-1", "light-4"])
    assert not copy.exists()
    assert asked == [
        ["org.freedesktop.DBus.NameHasOwner", "org.inkscape.Inkscape"],
        ["org.gtk.Actions.Activate", "select-clear", "[]", "{}"],
        ["org.gtk.Actions.Activate", "select-by-id", "[<'strip-1,light-4'>]", "{}"],
    ]


def test_gives_up_in_the_end(tmp_path: Path, asked: list[list[str]]) -> None:
    (tmp_path / "copy.svg").write_text("")
    assert not selecting.select_when_gone(str(tmp_path / "copy.svg"), ["a"], patience=0.05)
    assert asked == []


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """An editor on a desktop with a bus; processes are written down instead of started."""
    commands: list[list[str]] = []
    monkeypatch.setenv("DBUS_SESSION_BUS_ADDRESS", "unix:path=/none")
    monkeypatch.setenv("DOCUMENT_PATH", "card.svg")
    monkeypatch.setattr(selecting, "which", lambda name: f"/bin/{name}")
    monkeypatch.setattr(selecting.subprocess, "Popen", lambda c, **_: commands.append(c))
    return commands


def test_starts_a_process_of_its_own(started: list[list[str]]) -> None:
    assert selecting.select_later("copy.svg", ["a", "b"])
    assert started == [[sys.executable, "-E", "-S", selecting.__file__, "copy.svg", "a", "b"]]


def test_ids_that_would_break_the_question_are_left_out(started: list[list[str]]) -> None:
    assert selecting.select_later("copy.svg", ["a'b", "c,d", "", "e"])
    assert started[0][-2:] == ["copy.svg", "e"]
    assert not selecting.select_later("copy.svg", ["a'b"])


@pytest.mark.parametrize(
    ("name", "value"),
    [("DOCUMENT_PATH", None), ("DBUS_SESSION_BUS_ADDRESS", None),
     ("DBUS_SESSION_BUS_ADDRESS", "disabled:")],
)  # fmt: skip
def test_does_nothing_where_there_is_no_editor_to_ask(
    started: list[list[str]], monkeypatch: pytest.MonkeyPatch, name: str, value: str | None
) -> None:
    if value is None:
        monkeypatch.delenv(name)
    else:
        monkeypatch.setenv(name, value)
    assert not selecting.select_later("copy.svg", ["a"])
    assert started == []


def test_does_nothing_without_the_program_that_asks(
    started: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(selecting, "which", lambda name: None)
    assert not selecting.select_later("copy.svg", ["a"])
    assert started == []
