"""What runs for every change is what the README promises."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
RUN = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_script_is_whole() -> None:
    subprocess.run(["bash", "-n", str(ROOT / ".ci" / "run")], check=True, timeout=30)


def test_runs_the_test_command_of_the_readme() -> None:
    (command,) = re.findall(r"^(python3 .* -m pytest .*)$", README, flags=re.MULTILINE)
    for step in command.split(" && "):
        assert step in RUN


def test_every_gate_counts() -> None:
    for gate in (
        "ruff check .",
        "ruff format --check .",
        "mypy",
        "-m pytest -n 2 --dist loadfile --no-loadscope-reorder",
    ):
        lines = [line for line in RUN.splitlines() if line.endswith(f"{gate} || status=1")]
        assert len(lines) == 1
    assert RUN.rstrip().endswith('exit "$status"')
