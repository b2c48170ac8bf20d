from __future__ import annotations

from dataclasses import replace

import pytest

from rules.cards import NOTHING, bench, judge, near, notes, only
from rules.draw_faulty import Draft
from rules.drawings import changed, told
from underlit.model.drawing import Remark
from underlit.model.finding import Finding


def remark(kind: str, role: str, in_part: bool = False) -> Remark:
    part = 0 if in_part else None
    return Remark(kind, "thing", True, role, (30.0, 70.0), in_part, "", part)


def skipped(kind: str, role: str, in_part: bool = False) -> list[Finding]:
    facts = replace(NOTHING, remarks=(remark(kind, role, in_part),))
    return [*judge(bench(), facts=facts), *notes(bench(), facts=facts)]


@pytest.mark.parametrize("role", ["base", "tape", "lights", "power", "foam"])
@pytest.mark.parametrize("kind", ["text", "picture", "masked"])
def test_what_is_not_read_is_a_caution_on_the_layers_that_matter(kind: str, role: str) -> None:
    (finding,) = skipped(kind, role)
    assert (finding.rule, finding.severity) == ("object-skipped", "caution")
    near(finding, 30, 70)
    assert finding.objects == ("thing",)
    assert finding.message.startswith('"thing" ')
    assert finding.remedy


@pytest.mark.parametrize(
    ("kind", "role"),
    [("text", "die-cut"), ("picture", "die-cut"), ("text", "folds"), ("text", "cover"),
     ("hidden", "tape"), ("hidden", "lights"), ("unpainted", "tape")],
)  # fmt: skip
def test_what_is_only_a_note(kind: str, role: str) -> None:
    assert [f.severity for f in skipped(kind, role)] == ["note"]


@pytest.mark.parametrize(
    ("kind", "role", "in_part", "severity"),
    [
        ("unreadable", "tape", False, "stop"),
        ("unreadable", "lights", True, "stop"),
        ("unreadable", "power", True, "stop"),
        ("unreadable", "lights", False, "caution"),
        ("unreadable", "base", False, "caution"),
        ("unreadable", "die-cut", False, "caution"),
        ("flat", "lights", True, "stop"),
        ("flat", "tape", False, "caution"),
        ("clone-cycle", "tape", False, "stop"),
    ],
)
def test_broken_tape_or_parts_are_a_stop(
    kind: str, role: str, in_part: bool, severity: str
) -> None:
    assert [f.severity for f in skipped(kind, role, in_part)] == [severity]


def test_a_click_without_a_drag_is_only_a_note() -> None:
    dot = remark("no-size", "tape")
    facts = replace(NOTHING, remarks=(dot,))
    assert [f.severity for f in notes(bench(), facts=facts)] == ["note"]
    assert judge(bench(), facts=facts) == []


def test_a_part_that_is_hidden_as_a_whole_is_named() -> None:
    whole = replace(remark("hidden", "lights"), in_part=True)
    facts = replace(NOTHING, remarks=(whole,))
    assert [f.objects for f in notes(bench(), facts=facts)] == [("thing",)]


@pytest.mark.parametrize("kind", ["text", "picture", "hidden", "unpainted"])
def test_decoration_inside_a_part_is_nobody_s_business(kind: str) -> None:
    assert skipped(kind, "lights", in_part=True) == []


def test_one_finding_per_object() -> None:
    both = (remark("text", "tape"), replace(remark("picture", "base"), id="photo"))
    facts = replace(NOTHING, remarks=both)
    assert sorted(f.objects for f in judge(bench(), facts=facts)) == [("photo",), ("thing",)]


def test_words_for_text_and_pictures() -> None:
    facts = replace(NOTHING, remarks=(remark("picture", "base"),))
    assert "picture" in only(bench(), "object-skipped", "caution", facts=facts).message


def test_read_from_a_drawing() -> None:
    def odd(d: Draft) -> None:
        paint = 'style="fill:none;stroke:#e69f00;stroke-width:5"'
        d.layers["tape"] += [
            '<text id="words" x="30" y="100">plus</text>',
            f'<path id="torn" d="M 30 100 L inf 100" {paint} />',
            f'<g id="away" style="display:none"><path d="M 30 100 L 50 100" {paint} /></g>',
        ]
        d.layers["die-cut"].append('<text id="title" x="30" y="20">Harbour Lane</text>')

    assert told(changed(odd)) == [
        ("object-skipped", "stop", ("torn",)),
        ("object-skipped", "caution", ("words",)),
        ("object-skipped", "note", ("title",)),
        ("object-skipped", "note", ("away",)),
    ]
