"""One odd drawing through the actions; what each did wrong."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

from .deeds import QUICK, SLOW, Deed, Hangs, options_of, run
from .drawings import odd_drawing
from .judging import faults_of_report, lost

#: One in so many drawings goes through the actions that search.
SHARE_OF_SLOW = 8


def walk(rng: random.Random, folder: Path) -> list[str]:
    """Make a drawing, send it through every quick action and now and then a slow one.

    In half of the walks each action works on what the last one left. Returns the faults; the
    drawing at fault stays in `folder`.
    """
    drawing = odd_drawing(rng)
    in_a_row = rng.random() < 0.5
    deeds = [*QUICK]
    if rng.randrange(SHARE_OF_SLOW) == 0:
        deeds.insert(rng.randint(0, len(deeds)), rng.choice(SLOW))
    for deed in deeds:
        options = options_of(rng, deed)
        faults, after = act(deed, options, drawing, folder)
        if faults:
            (folder / "at-fault.svg").write_bytes(drawing)
            return [f"{deed.script} {' '.join(options)}: {fault}" for fault in faults]
        if in_a_row and after is not None:
            drawing = after
    return []


def act(
    deed: Deed, options: list[str], drawing: bytes, folder: Path
) -> tuple[list[str], bytes | None]:
    """Run one action on a drawing: its faults, and what it made of the drawing."""
    files = folder / "files"
    shutil.rmtree(files, ignore_errors=True)
    files.mkdir()
    if deed.folder:
        options = [*options, f"--folder={files}"]
    source, target = folder / "in.svg", folder / "out.svg"
    source.write_bytes(drawing)
    faults, after = _once(deed, options, source, target)
    if after is None or faults:
        return faults, None
    gone = lost(drawing, after, deed.turns, deed.layers)
    if gone is not None:
        return [f"lost or changed: {gone.named}"], None
    if deed.again:
        source.write_bytes(after)
        faults, twice = _once(deed, options, source, target)
        if not faults and twice != after:
            faults = ["a second run changes the drawing"]
    return faults, after


def _once(
    deed: Deed, options: list[str], source: Path, target: Path
) -> tuple[list[str], bytes | None]:
    report = target.with_suffix(".json")
    for path in (target, report):
        path.unlink(missing_ok=True)
    words = [str(source), f"--output={target}", f"--report={report}", *options]
    try:
        done = run(deed, words)
    except Hangs:
        return ["hangs"], None
    if done.code == 0:
        if done.err:
            return [f"says on standard error: {done.err}"], None
        return faults_of_report(report), target.read_bytes()
    if "Something went wrong" in done.err or done.err.count("\n") != 1 or len(done.err) < 10:
        return [f"ends with: {done.err}"], None
    if target.exists() or report.exists():
        return [f"left a file behind after: {done.err}"], None
    return [], None
