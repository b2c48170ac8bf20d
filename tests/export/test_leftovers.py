"""Sheets of an earlier export: removed where they are provably ours, else only named."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from underlit.errors import UnwritableTarget
from underlit.export.signing import UNSIGNED, is_signed, signed
from underlit_host.leftovers import leftovers, sweep, without

from .test_action import names, run

PACKED = ("--formats", "svg,dxf", "--arrange", "packed")


def further(folder: Path) -> list[str]:
    return sorted(n for n in names(folder) if n.startswith("night-garden-tape-"))


@pytest.fixture
def many(garden: Path, folder: Path) -> list[str]:
    """The further sheets of eight cards."""
    assert run(garden, folder, *PACKED, "--copies", "12").returncode == 0
    found = further(folder)
    assert len(found) >= 4
    return found


def export_of(garden: Path) -> dict[str, list[str]]:
    return json.loads((garden.parent / "report.json").read_text())["export"]


def test_a_mark_fits_content_and_name() -> None:
    data = signed(f"<svg><!-- {UNSIGNED} --></svg>".encode(), "a-tape-2.svg")
    assert is_signed(data, "a-tape-2.svg")
    assert not is_signed(data, "a-tape-3.svg")
    assert not is_signed(data.replace(b"svg", b"svG"), "a-tape-2.svg")
    assert not is_signed(data + b"\n", "a-tape-2.svg")
    assert not is_signed(data + data, "a-tape-2.svg")
    assert not is_signed(b"<svg/>", "a-tape-2.svg")


def test_surplus_sheets_go_when_files_may_be_replaced(
    garden: Path, folder: Path, many: list[str]
) -> None:
    done = run(garden, folder, *PACKED, "--overwrite", "true")
    assert (done.returncode, done.stderr) == (0, "")
    assert further(folder) == []
    told = export_of(garden)
    assert set(many) <= set(told["removed"])
    assert told["left_over"] == []
    assert names(folder) == set(told["files"])
    assert "Removed, from an earlier export with more sheets: night-garden-" in done.stdout


def test_what_was_changed_or_drawn_by_hand_stays_and_is_named(
    garden: Path, folder: Path, many: list[str]
) -> None:
    changed, copied = folder / many[0], folder / "night-garden-tape-77.svg"
    changed.write_bytes(changed.read_bytes() + b"\n")
    copied.write_bytes((folder / "night-garden-tape-2.svg").read_bytes())
    (folder / "night-garden-tape-9.svg").write_text("<svg/>")
    (folder / "night-garden-tape-02.svg").write_text("<svg/>")
    (folder / "another-tape-2.svg").write_text("<svg/>")
    done = run(garden, folder, *PACKED, "--overwrite", "true")
    assert done.returncode == 0
    stay = {many[0], "night-garden-tape-77.svg", "night-garden-tape-9.svg"}
    told = export_of(garden)
    assert set(told["left_over"]) == stay
    assert names(folder) >= {*stay, "night-garden-tape-02.svg", "another-tape-2.svg"}
    for name in stay:
        assert name in done.stdout
    assert "do not cut them by mistake" in done.stdout


def test_without_leave_to_replace_nothing_is_removed(
    garden: Path, folder: Path, many: list[str]
) -> None:
    for name in names(folder) - set(many):
        (folder / name).unlink()
    done = run(garden, folder, *PACKED)
    assert done.returncode == 0
    assert further(folder) == many
    told = export_of(garden)
    assert told["removed"] == []
    assert set(told["left_over"]) == set(many)


def test_other_kinds_of_file_and_other_layers_are_not_touched(
    garden: Path, folder: Path, many: list[str]
) -> None:
    done = run(garden, folder, "--formats", "svg", "--arrange", "packed", "--overwrite", "true")
    assert done.returncode == 0
    assert further(folder) == [name for name in many if name.endswith(".dxf")]
    done = run(garden, folder, "--formats", "svg", "--overwrite", "true")
    assert done.returncode == 0
    told = export_of(garden)
    assert "night-garden-tape.svg" in told["left_over"]  # the strips cross: other names in place
    assert (folder / "night-garden-tape.svg").exists()


def test_links_are_never_removed(folder: Path, tmp_path: Path) -> None:
    real = tmp_path / "real.svg"
    real.write_bytes(signed(UNSIGNED.encode(), "a-tape-2.svg"))
    (folder / "a-tape-2.svg").symlink_to(real)
    found = leftovers(str(folder), "a", ["a-tape.svg"])
    assert (found.surplus, found.stay) == ((), ("a-tape-2.svg",))
    (folder / "a-tape-2.svg").unlink()
    (folder / "a-tape-2.svg").write_bytes(real.read_bytes())
    assert leftovers(str(folder), "a", ["a-tape.svg"]).surplus == ("a-tape-2.svg",)


def fail(folder: Path) -> None:
    with without(str(folder), ["a-tape-2.svg", "a-tape-3.svg"]) as gone:
        assert gone == ("a-tape-2.svg", "a-tape-3.svg")
        raise UnwritableTarget("the disk is full")


def test_a_failed_export_brings_surplus_sheets_back(folder: Path) -> None:
    for n in (2, 3):
        (folder / f"a-tape-{n}.svg").write_text(str(n))
    with pytest.raises(UnwritableTarget):
        fail(folder)
    assert {p.name: p.read_text() for p in folder.iterdir()} == {
        "a-tape-2.svg": "2",
        "a-tape-3.svg": "3",
    }
    with without(str(folder), ["a-tape-2.svg", "a-tape-9.svg"]) as gone:
        assert gone == ("a-tape-2.svg",)
    assert names(folder) == {"a-tape-3.svg"}


def test_remains_of_a_killed_run_are_swept_up_later(folder: Path) -> None:
    old, new = folder / ".underlit-12-ab3.part", folder / ".underlit-13-ab3.part"
    mine = folder / ".underlit-notes.part"
    for path in (old, new, mine):
        path.write_text("half")
        if path is not new:
            os.utime(path, (1, 1))
    sweep(str(folder))
    assert names(folder) == {new.name, mine.name}
