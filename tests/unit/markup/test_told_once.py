"""Findings that differ only in their places: told in one, marked at every place."""

from __future__ import annotations

from dataclasses import replace

from underlit.markup.findings import findings_sheet
from underlit.markup.primitives import Text
from underlit.model.drawing import Page
from underlit.model.finding import Finding, Together, numbers_of, told_once
from underlit.sheet.faults import numbered
from underlit.workflows.telling import finding_lines

ALL = Together(3, "Windows 1, 2 and 3 have a bright spot each.", "Vellum behind them.")


def note(number: int, together: Together | None = ALL) -> Finding:
    return Finding(
        "glow-uneven", "note", (20.0 * number, 30.0), (f"w{number}",),
        f"Window {number} has a bright spot.", "Vellum behind it.", together=together,
    )  # fmt: skip


OTHER = Finding("strip-spare", "note", (70.0, 60.0), ("s",), "A spare strip.", "Remove it.")
SOME = [note(1), note(2), OTHER, note(3)]


def test_told_once_with_one_number() -> None:
    assert numbers_of(SOME) == [1, 1, 2, 1]
    assert [(n, f.message) for n, f in told_once(SOME)] == [(1, ALL.message), (2, OTHER.message)]


def test_each_for_itself_where_one_of_them_is_missing() -> None:
    """One of them is accepted by the maker, say: the sentence on all would be wrong."""
    rest = [note(1), OTHER, note(3)]
    assert numbers_of(rest) == [1, 2, 3]
    assert [f.message for _, f in told_once(rest)] == [f.message for f in rest]


def test_a_shell_the_sheet_and_the_legend_say_it_once_and_every_place_is_marked() -> None:
    lines = finding_lines(SOME)
    assert len(lines) == 2
    assert ALL.message in lines[0]
    assert [(n.number, n.finding.message) for n in numbered(SOME)] == [
        (1, ALL.message),
        (2, OTHER.message),
    ]
    sheet = findings_sheet(Page(100.0, 100.0, 1.0), (0.0, 0.0, 100.0, 100.0), SOME, (), "", "ready")
    assert [mark.number for mark in sheet.marks] == [1, 1, 2, 1]
    assert [mark.place for mark in sheet.marks] == [f.at for f in SOME]
    names = [group.name for group in sheet.groups]
    assert len(names) == len(set(names))
    legend = [g for g in sheet.groups if g.name.startswith("legend-")]
    words = " ".join(i.text for g in legend for i in g.items if isinstance(i, Text))
    assert words.count("Windows 1, 2 and 3 have a bright spot each.") == 1
    assert "Window 2 has" not in words
    assert "2 notes" in words


def test_alone_it_is_told_as_ever() -> None:
    alone = [replace(note(1), together=None), OTHER]
    assert told_once(alone) == [(1, alone[0]), (2, OTHER)]
