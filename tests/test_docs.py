"""What the pages promise is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from docs.write_rules import with_entries
from underlit import rules

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_readme_has_every_rule_as_the_rule_says_it() -> None:
    assert with_entries(README) == README, "run tests/docs/write_rules.py"


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.CODE)
def test_every_rule_has_its_page_sample_and_test(rule) -> None:
    name = rule.CODE.replace("-", "_")
    assert rule.__name__.rsplit(".", 1)[-1] == name
    assert (rule.__doc__ or "").startswith(f"{rule.CODE}: ")
    assert (ROOT / "sample_svgs" / "faulty" / f"{rule.CODE}.svg").is_file()
    assert (ROOT / "tests" / "rules" / f"test_{name}.py").is_file()


def test_every_link_of_the_readme_leads_somewhere() -> None:
    targets = re.findall(r"\]\(([^)#]+)\)", README)
    assert targets
    missing = [t for t in targets if not t.startswith("http") and not (ROOT / t).exists()]
    assert not missing


def test_every_picture_is_shown() -> None:
    pictures = {path.relative_to(ROOT).as_posix() for path in (ROOT / "docs").rglob("*.png")}
    assert pictures
    assert {path for path in pictures if path not in README} == set()


def test_no_file_of_the_rules_is_left_out() -> None:
    files = {path.stem for path in (ROOT / "extension/underlit/rules").glob("*.py")}
    known = {rule.__name__.rsplit(".", 1)[-1] for rule in (*rules.RULES, *rules.TOLD)}
    assert files - known == {"__init__", "amps", "ways", "wording"}
