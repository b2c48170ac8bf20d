"""Route the frozen boards: `python tests/benchmarks/routing/run.py [--quick] [SET ...]`.

Prints one row per set, then what has to be reached (`goals.py`) and whether it holds. Every layout
is judged by the independent verifier. Fails (exit 1) on a goal that does not hold, on any fault, on
a board solved before and lost now, and where a set's mean ratio grew by over 0.5 %. Aims are set to
the limits, the slider to 0.2; `--as-offered`: aims, slider and effort as a maker has them first.
`--keep` writes `best_known.json` anew where something got better. Seconds are processor time.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import time
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
sys.path[:0] = [str(ROOT / "extension"), str(ROOT / "tests")]

from benchmarks.routing import goals  # noqa: E402
from benchmarks.routing.cards import cards_of, set_names, task_of  # noqa: E402
from benchmarks.routing.trees import two_trees  # noqa: E402
from routing.verifier import faults  # noqa: E402
from underlit.routing import Choices, Layout, Limits, layouts  # noqa: E402

BEST = Path(__file__).parent / "best_known.json"

#: Shortest lengths of three and four lights, by `exhaustive.py`.
EXHAUSTIVE = json.loads((Path(__file__).parent / "exhaustive.json").read_text("utf-8"))

#: Boards of the quick run: (set, first boards of it).
QUICK = {
    "basic": 4,
    "basic-45": 3,
    "basic-locked": 3,
    "maze": 3,
    "openings": 3,
    "dense": 2,
    "pinned": 2,
}

#: With aims set to the limits.
LIMIT_CHOICES = Choices(effort=1, fewer_strips=0.2)

COLUMNS = (
    "set",
    "boards",
    "solved",
    "faults",
    "ratio",
    "worst",
    "runs",
    "pieces",
    "joints",
    "first s",
    "last s",
)


def routed(card: dict, choices: Choices, limits: Limits | None = None) -> dict:
    """What routing one board gave; aims are set to the limits unless others are given."""
    task = task_of(card, choices, limits)
    start = time.process_time()
    first, last = None, None
    for found in layouts(task):
        last = found
        first = first if first is not None else time.process_time() - start
    row = {"name": card["name"], "first": first, "last": time.process_time() - start}
    row |= {"feasible": card.get("feasible", True), "lights": len(card["lights"])}
    row |= {"set": card["name"].rsplit("-", 1)[0], "width": card.get("width")}
    if not isinstance(last, Layout):
        return row | {"solved": False, "faults": [], "necks": len(last.pads)}
    figures, n = last.figures, len(task.lights)
    if card.get("openings"):
        row["over_trees"] = figures.length / two_trees(task, last.angles)
    if card["name"] in EXHAUSTIVE:
        row["over_best"] = figures.length / EXHAUSTIVE[card["name"]]
    return row | {
        "solved": True,
        "faults": faults(task, last),
        "ratio": figures.ratio,
        "length": figures.length,
        "runs": figures.runs / n,
        "pieces": figures.pieces / n,
        "joints": max(figures.joints.values()),
    }


def row_of(name: str, rows: list[dict]) -> list[str]:
    solved = [r for r in rows if r["solved"]]
    possible = [r for r in rows if r["feasible"]]
    out = [name, str(len(rows)), f"{sum(r['solved'] for r in possible)}/{len(possible)}"]
    out.append(str(sum(bool(r["faults"]) for r in rows)))
    if not solved:
        return [*out, *"-" * 5, *"--"]
    ratios = [r["ratio"] for r in solved]
    out += [f"{statistics.mean(ratios):.3f}", f"{max(ratios):.3f}"]
    for key in ("runs", "pieces", "joints"):
        out.append(f"{statistics.mean(r[key] for r in solved):.2f}")
    out.append(f"{max(r['first'] for r in solved):.2f}")
    return [*out, f"{max(r['last'] for r in solved):.1f}"]


def worse(rows: dict[str, list[dict]], best: dict) -> list[str]:
    """What is worse than it must be."""
    wrong = []
    for name, group in rows.items():
        wrong += [f"{r['name']}: {r['faults'][0]}" for r in group if r["faults"]]
        known = [(r, best[r["name"]]) for r in group if r["name"] in best]
        wrong += [f"{r['name']} is lost" for r, _ in known if not r["solved"]]
        pairs = [(r["length"], b["routed"]) for r, b in known if r["solved"]]
        if pairs:
            now, then = (statistics.mean(p[i] for p in pairs) for i in (0, 1))
            if now > 1.005 * then:
                wrong.append(f"{name}: {100 * (now / then - 1):.1f} % longer than before")
    return wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sets", nargs="*")
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--keep", action="store_true")
    parser.add_argument("--first", type=int, default=None, help="only so many boards of each set")
    parser.add_argument("--effort", type=int)
    parser.add_argument("--fewer-strips", type=float)
    parser.add_argument("--as-offered", action="store_true")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args()
    best = json.loads(BEST.read_text("utf-8")) if BEST.exists() else {}
    choices, limits = (Choices(), Limits()) if options.as_offered else (LIMIT_CHOICES, None)
    given = {k: getattr(options, k) for k in ("effort", "fewer_strips")}
    choices = replace(choices, **{k: v for k, v in given.items() if v is not None})
    plan = QUICK if options.quick else dict.fromkeys(options.sets or set_names(), options.first)
    print(" | ".join(COLUMNS))
    rows: dict[str, list[dict]] = {}
    for name, count in plan.items():
        rows[name] = [routed(card, choices, limits) for card in cards_of(name)[:count]]
        print(" | ".join(row_of(name, rows[name])), flush=True)
        if options.json:
            options.json.write_text(json.dumps(rows, indent=1), "utf-8")
    everything = [r for group in rows.values() for r in group]
    holds, lines = goals.judged(everything, options.as_offered)
    print("\n".join(lines))
    wrong = [] if options.as_offered else worse(rows, best)
    print("\n".join(wrong) if wrong else "nothing is worse than before")
    if options.keep and not any(r["faults"] for group in rows.values() for r in group):
        keep(rows, best)
    return 1 if wrong or not holds else 0


def keep(rows: dict[str, list[dict]], best: dict) -> None:
    """Remember the lengths of this run, and the shortest ever."""
    for group in rows.values():
        for r in group:
            if r["solved"]:
                known = best.get(r["name"], {}).get("length", r["length"])
                best[r["name"]] = {
                    "length": round(min(known, r["length"]), 2),
                    "routed": round(r["length"], 2),
                    "runs": round(r["runs"], 3),
                }
    lines = ",\n".join(f'"{k}": {json.dumps(best[k])}' for k in sorted(best))
    BEST.write_text("{\n" + lines + "\n}\n", "utf-8")


if __name__ == "__main__":
    sys.exit(main())
