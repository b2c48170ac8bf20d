"""Drawings and choices at random: whatever a maker may have on her page, and whatever she picks."""

from __future__ import annotations

import random
import re

from kit.prepared import HEAD, layer

LABELS = ("Layer 1", "Die cut", "Die cut #2", "Base", "Notes", "Tape", "Openings", "Lights")
MARKS = (
    *("",) * 8,
    'style="display:none"',
    'transform="rotate(20)"',
    'visibility="hidden"',
    'underlit:glued="true"',
    'underlit:glow="through"',
    'underlit:part="panel"',
    'underlit:role="ignore"',
    'underlit:role="base"',
)
LAYERS = (
    *("",) * 4,
    'style="display:none"',
    'transform="translate(5,5) scale(0.5)"',
    'transform="scale(0)"',
    'underlit:role="die-cut"',
)
SIDES = (3.0, 12.0, 40.0, 100.0, 150.0)


def drawing_and_choice(seed: int) -> tuple[str, list[str]]:
    """A whole drawing, and options of Prepare that name objects in it."""
    dice = random.Random(seed)
    drawn = "".join(_layer(dice, n) for n in range(dice.randint(1, 3)))
    if dice.random() < 0.5:
        panel = '<rect id="panel" x="5" y="5" width="150" height="200"/>'
        drawn = layer(panel, label="Die cut", name="card") + drawn
    if dice.random() < 0.4:
        drawn += "".join(_shape(dice, 5000 + n) for n in range(dice.randint(1, 3)))
    ids = re.findall(r'id="([^"]+)"', drawn)
    options = ["--selection", dice.choice(("auto", "auto", "panel", "base", "none"))]
    named = ("--panel", "--base") if dice.random() < 0.5 else ("--panel", "--id")
    for option in named:
        more = ["1", "2"] if option != "--id" else []
        if dice.random() < 0.5:
            for _ in range(dice.choice((1, 1, 2, 3))):
                options += [option, dice.choice(ids + more)]
    if dice.random() < 0.3:
        options += ["--add-base", "true"]
    return f"{HEAD}{drawn}</svg>", options


def _layer(dice: random.Random, number: int) -> str:
    shapes = (_shape(dice, 1000 * number + n) for n in range(dice.randint(0, 6)))
    return layer(*shapes, label=dice.choice(LABELS), name=f"la{number}", more=dice.choice(LAYERS))


def _shape(dice: random.Random, number: int, depth: int = 0) -> str:
    x, y = round(dice.uniform(0, 180), 1), round(dice.uniform(0, 260), 1)
    w, h = (round(dice.choice(SIDES) * dice.uniform(0.7, 1.3), 1) for _ in range(2))
    name = f'id="s{number}"' if dice.random() < 0.85 else ""
    more = f"{name} {dice.choice(MARKS)}"
    held = dice.randint(0, 3) if depth < 2 else 0
    inner = "".join(_shape(dice, 100 * number + n, depth + 1) for n in range(held))
    return dice.choice(
        (
            *(f'<rect x="{x}" y="{y}" width="{w}" height="{h}" {more}/>',) * 4,
            *(f'<circle cx="{x}" cy="{y}" r="{w / 2:.2f}" {more}/>',) * 2,
            f'<path d="M{x},{y}h{w}v{h}h-{w}z m2,2h4v4h-4z" {more}/>',
            f'<path d="M{x},{y}h{w}v{h}" {more}/>',
            f'<text x="{x}" y="{y}" {more}>T</text>',
            f'<image width="9" height="9" xlink:href="data:image/png,x" {more}/>',
            f'<use xlink:href="#s{dice.randrange(12)}" x="{x / 4:.1f}" {more}/>',
            f'<svg {name} width="100" height="100" viewBox="0 0 50 50">{inner}</svg>',
            f'<defs><rect id="d{number}" width="{w}" height="{h}"/></defs>',
            f"<g {more}>{inner}</g>",
        )
    )
