"""Every sentence for a maker goes through `say`, so that it can be translated."""

from __future__ import annotations

import ast
import builtins
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from locale_tools.write_catalogs import EXTENSION

#: Run before the environment is there, or by those who build: their words stay English.
OUTSIDE = ("installing", "install.py", "launch.py")

#: Meanings of keys, for those who read the table; no message has them.
NOT_SHOWN = EXTENSION / "underlit" / "profiles" / "schema.py"

#: A sentence: three words in a row, or two that end like one.
SENTENCE = re.compile(r"[A-Za-z]+,? [a-z{}]+,? [a-z{}]+|[A-Z][a-z]+ [a-z]+[.!?:]")

#: Programs and style sheets that stand in a module as text.
PROGRAM = re.compile(r"[{;]\s*\n|function|</|^@media|{ [a-z-]+: |^\(?[a-z-]+: [^.]*;", re.MULTILINE)

#: What reads like a sentence and is none: names of files, values of attributes.
NO_SENTENCE = {
    "f'tape sheet {t.label}'",  # a key of price lists
    "'fill stroke stroke-width stroke-linejoin stroke-linecap'",
    "'fill fill-opacity fill-rule stroke stroke-width stroke-linejoin'",
    "'font-family font-weight font-style font-size line-height text-anchor fill stroke'",
    "'stroke stroke-width stroke-dasharray stroke-linecap stroke-linejoin stroke-opacity'",
    "'File not found: '",  # what the host's library says
    "'foam and the cover'",  # a value of reports
}

SPEAKING = {"say", "say_count", "later"}

#: Faults of the program itself, beside those that Python brings.
INTERNAL = {"FrozenInstanceError", "NoOperatingPoint"}

#: For those who build or type commands, not for the maker.
INWARD = {"help", "description", "epilog"}


def is_sentence(node: ast.AST) -> bool:
    if isinstance(node, ast.JoinedStr):
        text = "".join(v.value if isinstance(v, ast.Constant) else "{}" for v in node.values)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        text = node.value
    else:
        return False
    return bool(SENTENCE.search(text)) and not PROGRAM.search(text)


def unsaid(tree: ast.AST) -> Iterator[str]:
    """Sentences under a node that are neither said nor documentation."""
    if isinstance(tree, ast.Expr) and isinstance(tree.value, ast.Constant):
        return
    if isinstance(tree, ast.Raise) and tree.exc is not None:
        kind = ast.unparse(tree.exc).partition("(")[0]
        if hasattr(builtins, kind) or kind in INTERNAL:
            return
    if isinstance(tree, ast.Call) and ast.unparse(tree.func) in SPEAKING:
        return
    if isinstance(tree, ast.keyword) and tree.arg in INWARD:
        return
    if is_sentence(tree) and ast.unparse(tree) not in NO_SENTENCE:
        yield f"line {tree.lineno}: {ast.unparse(tree)}"  # type: ignore[attr-defined]
        return
    for child in ast.iter_child_nodes(tree):
        if not (isinstance(tree, ast.JoinedStr) and isinstance(child, ast.Constant)):
            yield from unsaid(child)


def modules() -> list[Path]:
    found = sorted(EXTENSION.rglob("*.py"))
    return [p for p in found if p.relative_to(EXTENSION).parts[0] not in OUTSIDE and p != NOT_SHOWN]


@pytest.mark.parametrize("module", modules(), ids=lambda p: p.relative_to(EXTENSION).as_posix())
def test_nothing_is_left_unsaid(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert list(unsaid(tree)) == []


@pytest.mark.parametrize("module", modules(), ids=lambda p: p.relative_to(EXTENSION).as_posix())
def test_no_text_stands_inside_an_f_string(module: Path) -> None:
    """There the catalogs do not find it."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    assert list(hidden(tree)) == []


def hidden(tree: ast.AST) -> Iterator[str]:
    """Texts that are said within the braces of an f-string."""
    for braces in (node for node in ast.walk(tree) if isinstance(node, ast.FormattedValue)):
        for call in (node for node in ast.walk(braces) if isinstance(node, ast.Call)):
            if ast.unparse(call.func) in SPEAKING and isinstance(call.args[0], ast.Constant):
                yield f"line {call.lineno}: {ast.unparse(call)}"


def test_a_forgotten_sentence_is_found() -> None:
    tree = ast.parse(
        '"""Words of the module."""\nx = f"{a} lies too near {b}."\ny = say("So it is.")'
    )
    assert len(list(unsaid(tree))) == 1


def test_a_text_in_braces_is_found() -> None:
    assert len(list(hidden(ast.parse("x = f\"{say('So it is.')} {y}\"")))) == 1
    assert list(hidden(ast.parse('x = f"{say(TABLE[y])} {y}"'))) == []
