"""The shape of the house: who may import whom."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

EXTENSION = Path(__file__).parent.parent / "extension"
PURE = EXTENSION / "underlit"

#: Floors of the house, lowest first; a package may import what stands on a lower floor.
FLOORS = (
    ("units", "errors", "records", "language"),
    ("profiles",),
    ("geometry", "model"),
    ("connectivity", "electrical"),
    ("stack", "colours"),
    (
        "interpretation",
        "rules",
        "placement",
        "routing",
        "glow",
        "export",
        "foam",
        "sheet",
        "markup",
        "tracing",
    ),
    ("share",),
    ("workflows",),
)

#: What a lower floor may take from another room of the same floor.
NEIGHBOURS = {("geometry", "model")}

FLOOR = {room: i for i, rooms in enumerate(FLOORS) for room in rooms}

MODULES = sorted(PURE.rglob("*.py"))


def room_of(path: Path) -> str:
    """The package (or top module) of underlit that a file belongs to."""
    parts = path.relative_to(PURE).parts
    return parts[0].removesuffix(".py")


def imports(path: Path) -> list[tuple[str, int, bool]]:
    """(absolute module name, line, under TYPE_CHECKING) of every import of a file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    package = ("underlit", *path.relative_to(PURE).parts[:-1])
    typing_only = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for inner in ast.walk(node)
    }
    found = []
    for node in ast.walk(tree):
        hint = id(node) in typing_only
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno, hint) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            name = ".".join([*base, *(node.module or "").split(".")]).strip(".")
            if node.module:
                found.append((name, node.lineno, hint))
            else:
                found += [(f"{name}.{alias.name}", node.lineno, hint) for alias in node.names]
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PURE)))
def test_pure_package_knows_no_host(path: Path) -> None:
    names = {name.split(".")[0] for name, _, _ in imports(path)}
    assert not names & {"inkex", "lxml", "underlit_host"}


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PURE)))
def test_imports_only_go_down(path: Path) -> None:
    here = room_of(path)
    if here == "__init__":
        return
    for name, line, _ in imports(path):
        parts = name.split(".")
        if parts[0] != "underlit" or len(parts) < 2 or parts[1] not in FLOOR:
            continue
        there = parts[1]
        fine = there == here or FLOOR[there] < FLOOR[here] or (here, there) in NEIGHBOURS
        assert fine, f"{path}:{line}: {here} may not import {there}"


def test_every_room_stands_on_a_floor() -> None:
    assert {room_of(path) for path in MODULES} - {"__init__"} <= set(FLOOR)


def test_modules_form_no_cycle() -> None:
    import networkx as nx

    graph = nx.DiGraph()
    for path in MODULES:
        parts = ("underlit", *path.relative_to(PURE).with_suffix("").parts)
        here = ".".join(parts).removesuffix(".__init__")
        for name, _, hint in imports(path):
            if name.startswith("underlit.") and name != here and not hint:
                graph.add_edge(here, name)
    cycles = list(nx.simple_cycles(graph))
    assert not cycles


def test_only_the_host_package_and_scripts_import_inkex() -> None:
    for path in EXTENSION.rglob("*.py"):
        inside = path.relative_to(EXTENSION).parts[0]
        text = path.read_text(encoding="utf-8")
        if inside != "underlit_host" and path.name not in {"install.py"}:
            assert "import inkex" not in text, path
            assert "from lxml" not in text, path


def test_modules_stay_rooms_not_halls() -> None:
    sizes = sorted(len(p.read_text(encoding="utf-8").splitlines()) for p in EXTENSION.rglob("*.py"))
    assert sizes[len(sizes) // 2] < 250
    assert sizes[int(len(sizes) * 0.9)] < 500
