"""Nothing is ever lost half way: reading and writing files."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from underlit.errors import UnreadableDrawing, UnwritableTarget
from underlit_host import files


def left(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_writes_new_files_and_replaces_old_ones(tmp_path: Path) -> None:
    one, two = tmp_path / "one.svg", tmp_path / "two.json"
    one.write_bytes(b"older and longer")
    files.write_all({str(one): b"new", str(two): b"{}"})
    assert (one.read_bytes(), two.read_bytes()) == (b"new", b"{}")
    assert left(tmp_path) == {"one.svg", "two.json"}


def test_keeps_permissions_and_follows_links(tmp_path: Path) -> None:
    real = tmp_path / "real.svg"
    real.write_bytes(b"old")
    real.chmod(0o640)
    (tmp_path / "link.svg").symlink_to(real)
    files.write_all({str(tmp_path / "link.svg"): b"new"})
    assert real.read_bytes() == b"new"
    assert (tmp_path / "link.svg").is_symlink()
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_new_file_gets_the_usual_permissions(tmp_path: Path) -> None:
    files.write_all({str(tmp_path / "ours"): b""})
    (tmp_path / "usual").write_bytes(b"")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_a_full_disk_leaves_every_older_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, two = tmp_path / "one.json", tmp_path / "two.svg"
    one.write_bytes(b"old one")
    two.write_bytes(b"old two")
    real = os.fdopen

    class Full:
        def __init__(self, handle: int) -> None:
            self.file = real(handle, "wb")

        def __enter__(self) -> Full:
            return self

        def __exit__(self, *_: object) -> None:
            self.file.close()

        def write(self, data: bytes) -> None:
            self.file.write(data[:3])
            if len(data) > 5:
                raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(files.os, "fdopen", lambda handle, _: Full(handle))
    with pytest.raises(UnwritableTarget, match=r"two.svg cannot be written: the disk is full\."):
        files.write_all({str(one): b"short", str(two): b"much too long"})
    assert (one.read_bytes(), two.read_bytes()) == (b"old one", b"old two")
    assert left(tmp_path) == {"one.json", "two.svg"}


def test_a_really_full_device_is_told() -> None:
    with pytest.raises(UnwritableTarget, match="the disk is full"):
        files.write_all({"/dev/full": b"data"})


def test_devices_are_written_to_and_stay_devices() -> None:
    files.write_all({"/dev/null": b"data"})
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_refused_targets_are_told_and_nothing_is_written(tmp_path: Path) -> None:
    good, locked = tmp_path / "good.json", tmp_path / "locked.svg"
    locked.write_bytes(b"old")
    locked.chmod(0o444)
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o555)
    cases = {
        str(locked): "locked.svg is read-only",
        str(closed / "x.svg"): "its folder is read-only",
        str(tmp_path / "nowhere" / "x.svg"): "there is no folder",
        str(tmp_path): "is a folder",
        str(good / "x.svg"): "there is no folder",
        str(tmp_path / ("x" * 300)): "its name is too long",
        "a\0b": "that is no name of a file",
        "": "is a folder",
        "/proc/none.svg": "cannot be written",
    }
    for path, words in cases.items():
        with pytest.raises(UnwritableTarget, match=words):
            files.write_all({str(good): b"{}", path: b"new"})
        assert left(tmp_path) == {"locked.svg", "closed"}
    assert locked.read_bytes() == b"old"


def test_one_file_for_two_things_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")
    with pytest.raises(UnwritableTarget, match="named twice"):
        files.write_all({f"{tmp_path}/a": b"1", f"{tmp_path}/../{tmp_path.name}/a": b"2"})
    assert (tmp_path / "a").read_bytes() == b"old"


def test_what_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "good.svg").write_bytes(b"<svg/>")
    assert files.read_bytes(str(tmp_path / "good.svg")) == b"<svg/>"
    for path, words in {
        str(tmp_path / "none.svg"): "There is no file",
        str(tmp_path): "is a folder",
        "a\0b": "cannot be read",
    }.items():
        with pytest.raises(UnreadableDrawing, match=words):
            files.read_bytes(path)
