"""Write the rule entries of the README from the rules' own pages.

python tests/docs/write_rules.py
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
START = "<!-- rules: written by tests/docs/write_rules.py from the rules themselves -->"
END = "<!-- end of rules -->"


def entries() -> str:
    """One entry per rule in the order of reports: code, severity, page, faulty sample."""
    sys.path.insert(0, str(ROOT / "extension"))
    from underlit import rules

    lines: list[str] = []
    for rule in (*rules.RULES, *rules.TOLD):
        names = [
            name
            for name, group in (
                ("stop", rules.STOPS),
                ("caution", rules.CAUTIONS),
                ("note", rules.NOTES),
            )
            if rule in group
        ]
        title, _, body = (rule.__doc__ or "").strip().partition("\n")
        title = title.removeprefix(f"{rule.CODE}: ")
        text = re.sub(r"\s*\n\s*", " ", body.strip().replace("\n\n", "\0")).replace("\0", "\n\n")
        sample = f" ([example](sample_svgs/faulty/{rule.CODE}.svg))" if rule in rules.RULES else ""
        lines += [
            f"### {rule.CODE}",
            "",
            f"*{' or '.join(names)}*: {title}{sample}",
            "",
            text,
            "",
            *([f"![{rule.CODE}](docs/rules/{rule.CODE}.png)", ""] if sample else []),
        ]
    return "\n".join(lines)


def with_entries(readme: str) -> str:
    """The README's text with its rule entries as they should be."""
    before, _, rest = readme.partition(START)
    _, _, after = rest.partition(END)
    return f"{before}{START}\n\n{entries()}\n{END}{after}"


if __name__ == "__main__":
    page = ROOT / "README.md"
    page.write_text(with_entries(page.read_text(encoding="utf-8")), encoding="utf-8")
