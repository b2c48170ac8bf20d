"""What makers get: the packed archive, the installers to double-click, the version."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

from underlit import __version__

ROOT = Path(__file__).parent.parent.parent
CHANGES = (ROOT / "docs" / "changes.md").read_text(encoding="utf-8")

#: Where the installer looks for Python beside PATH.
ELSEWHERE = (
    "/Library/Frameworks/Python.framework/Versions/Current/bin/python3",
    "/opt/homebrew/bin/python3",
    "/usr/local/bin/python3",
)

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs a POSIX shell")


def pack(folder: Path) -> Path:
    command = [sys.executable, str(ROOT / ".ci" / "archive"), str(folder)]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=120)
    return Path(done.stdout.strip())


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if not (ROOT / ".git").exists():
        pytest.skip("no git here to pack from")
    return pack(tmp_path_factory.mktemp("release") / "one")


@pytest.fixture(scope="module")
def unpacked(packed: Path) -> Path:
    """The archive as an unpacking program leaves it, with the rights that it names."""
    folder = packed.parent / "unpacked"
    with zipfile.ZipFile(packed) as archive:
        for entry in archive.infolist():
            path = Path(archive.extract(entry, folder))
            path.chmod(entry.external_attr >> 16 & 0o777)
    return folder / f"underlit-{__version__}"


def test_two_packings_are_the_same_bytes(packed: Path) -> None:
    again = pack(packed.parent.parent / "two")
    one, two = (hashlib.sha256(path.read_bytes()).hexdigest() for path in (packed, again))
    assert one == two


def test_holds_what_makers_need_and_no_tests(unpacked: Path) -> None:
    for name in ("README.md", "LICENSE", "extension/install.cmd", "sample_svgs/lantern.svg"):
        assert (unpacked / name).is_file()
    assert not (unpacked / "tests").exists()
    assert not (unpacked / ".ci").exists()


def test_the_unpacked_copy_checks_a_card(unpacked: Path, tmp_path: Path) -> None:
    command = [sys.executable, str(unpacked / "extension" / "validate_card.py")]
    command += [str(unpacked / "sample_svgs" / "lantern.svg"), "--output", str(tmp_path / "o.svg")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert "Circuit ready" in done.stdout


def test_double_click_installs_into_the_editors_folder(unpacked: Path, tmp_path: Path) -> None:
    """The environment is the present one, so that nothing is fetched."""
    script = unpacked / "extension" / "install.command"
    command = [str(script), "--user-data", str(tmp_path / "data"), "--env", sys.prefix]
    done = subprocess.run(
        command, capture_output=True, text=True, timeout=300, check=False, stdin=subprocess.DEVNULL
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert (tmp_path / "data" / "extensions" / "underlit" / "validate_card.inx").is_file()
    assert "Start Inkscape again" in done.stdout


@pytest.mark.skipif(
    any(os.path.exists(path) for path in ELSEWHERE),
    reason="one outside PATH is found",
)
def test_double_click_without_python_says_what_to_get(tmp_path: Path) -> None:
    dirname = next(p for p in ("/usr/bin/dirname", "/bin/dirname") if os.path.exists(p))
    (tmp_path / "dirname").symlink_to(dirname)
    done = subprocess.run(
        ["/bin/sh", str(ROOT / "extension" / "install.command")], env={"PATH": str(tmp_path)},
        capture_output=True, text=True, timeout=60, check=False, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    assert done.returncode == 1
    assert "Python 3.11 or newer" in done.stdout
    assert done.stderr == ""


def test_taken_out_of_the_archive_alone_it_says_to_unpack_all(tmp_path: Path) -> None:
    alone = tmp_path / "install.command"
    alone.write_bytes((ROOT / "extension" / "install.command").read_bytes())
    done = subprocess.run(
        ["/bin/sh", str(alone)],
        capture_output=True, text=True, timeout=60, check=False, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (1, "")
    assert "Unpack the whole archive first" in done.stdout


def test_the_windows_installer_looks_for_its_neighbours_too() -> None:
    text = (ROOT / "extension" / "install.cmd").read_text(encoding="ascii")
    looks, runs = text.index("if not exist install.py"), text.index("%FOUND% install.py")
    assert looks < text.index("Unpack the whole archive first") < runs


def test_the_windows_installer_has_windows_line_ends() -> None:
    data = (ROOT / "extension" / "install.cmd").read_bytes()
    assert data.count(b"\n") == data.count(b"\r\n") > 20


def test_one_version_everywhere() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["version"] == __version__
    newest = re.search(r"^## (\S+)", CHANGES, flags=re.MULTILINE)
    assert newest is not None
    assert newest.group(1) == __version__
