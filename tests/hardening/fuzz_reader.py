"""A coverage-guided fuzzer on reading: bytes of any kind, and attributes of any content.

    pip install atheris        (a Python that has also Underlit's libraries)
    python tests/hardening/fuzz_reader.py CORPUS_FOLDER -max_total_time=600 -timeout=20

Fills an empty corpus folder with our sample cards. A drawing may be refused in words
(UnderlitError); anything else that is raised stops the fuzzer, which then writes the input down.
What it finds is kept as a drawing or a case in `tests/regressions/`.
"""

from __future__ import annotations

import sys
from pathlib import Path

import atheris

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

with atheris.instrument_imports(include=["underlit", "underlit_host"]):
    from underlit.errors import UnderlitError
    from underlit.interpretation.card import read_card
    from underlit_host.action import parse
    from underlit_host.first_look import check_bytes
    from underlit_host.read_drawing import read_drawing

#: One drawing with a gap for each kind of text that an attribute may hold.
GAPS = (
    '<path id="a" d="{}"/>', '<g transform="{}"><rect id="a" width="9" height="9"/></g>',
    '<path id="a" style="{}" d="M 0 0 L 30 30"/>', '<style>{}</style><rect id="a" class="b"/>',
    '<polygon id="a" points="{}"/>', '<rect id="a" x="{0}" width="{0}" height="{0}" rx="{0}"/>',
    '<clipPath id="c"><rect width="{}"/></clipPath><rect clip-path="url(#c)" width="9"/>',
    '<use id="a" href="#{0}" x="{0}"/><g id="a1"><path id="a2" d="M0 0h9v9z"/></g>',
    '<path id="a" underlit:accept="{}" d="M 0 0 h 9 v 9 z"/>',
)  # fmt: skip
ROLES = ("die-cut", "base", "tape", "lights", "power", "folds")
FRAME = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:underlit="urn:underlit:card:1" width="140mm" '
    'height="200mm" viewBox="0 0 140 200"><g underlit:role="{}">{}</g></svg>'
)


def in_a_frame(data: bytes) -> bytes:
    """The bytes as the content of one attribute of a small drawing."""
    where, role = data[0] % len(GAPS), data[1] % len(ROLES)
    text = data[2:].decode("utf-8", "ignore")
    for character, entity in (("&", "&amp;"), ("<", "&lt;"), ('"', "&quot;")):
        text = text.replace(character, entity)
    gap = GAPS[where].replace("{0}", text).replace("{}", text)
    return FRAME.replace("{}", ROLES[role], 1).replace("{}", gap, 1).encode("utf-8", "ignore")


def read(data: bytes) -> None:
    """What every action does before it begins to work."""
    try:
        check_bytes(data)
        read_card(read_drawing(parse(data), "fuzzed"), "fold")
    except UnderlitError:
        return


def one(data: bytes) -> None:
    """One input: a whole file where it looks like one, else the content of an attribute."""
    read(data if data.lstrip()[:1] == b"<" or len(data) < 3 else in_a_frame(data))


def fill(folder: Path) -> None:
    """Sample cards and small attribute texts to begin with."""
    folder.mkdir(parents=True, exist_ok=True)
    if any(folder.iterdir()):
        return
    for path in sorted((ROOT / "sample_svgs").rglob("*.svg")):
        if path.stat().st_size < 12_000:
            (folder / path.name).write_bytes(path.read_bytes())
    seeds = (
        "M 0 0 L 5 5 h 9 v-3 c1,2,3,4,5,6 a 4 5 0 0 1 9 9 z", "rotate(30 5 5) matrix(1 0 0 1 2 3)",
        "fill:none;stroke:#000;stroke-width:5mm", ".b{stroke-width:3} rect:not(.c){fill:red}",
        "0,0 10,0 10,10", "12.5mm", "50%", "a1", "tape-shows base-shows",
    )  # fmt: skip
    for i, text in enumerate(seeds):
        (folder / f"seed-{i}").write_bytes(bytes([i, 2]) + text.encode())


if __name__ == "__main__":
    fill(Path(sys.argv[1]))
    atheris.Setup(sys.argv, one)
    atheris.Fuzz()
