"""Every action with options as a maker might choose them, run in this process."""

from __future__ import annotations

import contextlib
import importlib
import io
import random
import signal
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

#: Seconds of computing after which an action counts as hanging, whatever else the machine does.
PATIENCE = 90

#: Memory that a process may ask for, as a maker's computer has it (bytes).
MEMORY = 4 << 30


@dataclass(frozen=True)
class Deed:
    """One action: its script, class, and choices for its options ("" leaves an option out)."""

    script: str
    kind: str
    options: dict[str, tuple[str, ...]]
    again: bool = True
    """Whether a second run with the same options must change nothing more."""
    turns: bool = False
    """Whether it may turn the maker's unlocked lights, as the conventions allow."""
    layers: bool = False
    """Whether it may put the maker's objects on layers."""
    folder: bool = False
    """Whether it writes files into a folder."""


PROFILES = ("", "", "", "", "classroom", "machine-cut", "no-such")

QUICK = (
    Deed("prepare_card", "PrepareCard", {
        "--panel": ("", "", "", "a1", "1", "99"), "--base": ("", "", "", "a2", "a3"),
        "--id": ("", "", "", "a1", "a4", "nobody"), "--add-base": ("", "true"),
        "--base-margin": ("", "0", "3", "60"), "--selection": ("", "panel", "base", "none", "x"),
        "--profile": PROFILES,
    }, layers=True),
    Deed("place_lights", "PlaceLights", {
        "--openings": ("", "", "1", "1-3", "99", "0", "x"), "--at": ("", "", "50,60", "-5,3"),
        "--type": ("", "red", "x"), "--count": ("", "auto", "2", "5", "0"),
        "--turn": ("", "free", "45", "30", "x"), "--replace": ("true",), "--id": ("", "a1", "a2"),
        "--profile": PROFILES,
    }),
    Deed("place_power", "PlacePower", {
        "--at": ("70,150", "40,60", "1,1"), "--id": ("", "", "a1"), "--type": ("", "cr2016", "x"),
        "--closes": ("", "press", "flap", "tab", "slide"), "--up": ("", "minus"),
        "--pull-tab": ("", "false", "true"), "--replace": ("true",), "--profile": PROFILES,
    }),
    Deed("validate_card", "ValidateCard", {"--profile": PROFILES}),
    Deed("preview_glow", "PreviewGlow", {
        "--depth": ("", "3", "0"), "--current-ma": ("", "8", "-1"), "--probe": ("", "50,50"),
        "--all-lit": ("", "true", "false"), "--profile": PROFILES,
    }),
    Deed("lay_foam", "LayFoam", {
        "--span": ("", "20", "5"), "--style": ("", "pads", "frame"), "--off-tape": ("", "true"),
        "--cover": ("", "true"), "--diffuser": ("", "true"), "--replace": ("true",),
        "--profile": PROFILES,
    }),
    Deed("find_fault", "FindFault", {"--dark": ("", "a1", "light-1"), "--see": ("", "flicker")}),
    Deed("export_tape", "ExportTape", {
        "--formats": ("", "svg", "svg,dxf,dxf-r12"), "--arrange": ("", "packed", "in-place"),
        "--pieces": ("", "whole", "strips"), "--copies": ("", "2", "0"), "--anyway": ("true", ""),
        "--overwrite": ("true",),
    }, again=False, folder=True),
    Deed("make_build_sheet", "MakeBuildSheet", {
        "--paper": ("", "letter", "20x20", "x"), "--copies": ("", "3", "-1"),
        "--pages": ("", "none,share", "base"), "--overwrite": ("true",),
    }, again=False, folder=True),
)  # fmt: skip

#: Actions that search: only a share of the drawings goes through them.
SLOW = (
    Deed("route_tape", "RouteTape", {
        "--turn": ("", "free", "45", "locked"), "--style": ("", "free", "rails"),
        "--fewer-strips": ("", "0", "1", "2"), "--effort": ("1",), "--replace": ("true",),
        "--allow-patches": ("", "true"), "--follow-sketch": ("", "false"), "--profile": PROFILES,
    }, again=False, turns=True),
    Deed("make_it_light", "MakeItLight", {"--id": ("", "a1")},
         again=False, turns=True, layers=True),
    Deed("pack_to_share", "PackToShare", {"--overwrite": ("true",)}, again=False, folder=True),
)  # fmt: skip


def options_of(rng: random.Random, deed: Deed) -> list[str]:
    """A choice for every option; most of them left out."""
    chosen = []
    for name, values in deed.options.items():
        value = values[0] if rng.random() < 0.8 else rng.choice(values)
        if value:
            chosen.append(f"{name}={value}")
    return chosen


@dataclass(frozen=True)
class Run:
    """How a run ended."""

    code: int
    out: str
    err: str


class Hangs(BaseException):
    """An action computed longer than PATIENCE."""


def run(deed: Deed, arguments: list[str]) -> Run:
    """Run an action in this process with its streams caught. Raises Hangs."""
    extension = str(Path(__file__).resolve().parents[2] / "extension")
    if extension not in sys.path:
        sys.path.insert(0, extension)
    kind: Any = getattr(importlib.import_module(deed.script), deed.kind)
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8") for _ in range(2))
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), _time_limit():
        code = kind().run(arguments)
    for stream in (out, err):
        stream.seek(0)
    return Run(code, out.read(), err.read())


@contextlib.contextmanager
def _time_limit() -> Iterator[None]:
    """Raise Hangs inside the block after PATIENCE seconds, where the system has such a clock."""
    if not hasattr(signal, "SIGPROF"):
        yield
        return

    def ring(number: int, frame: object) -> None:
        raise Hangs

    before = signal.signal(signal.SIGPROF, ring)
    signal.setitimer(signal.ITIMER_PROF, PATIENCE)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)
