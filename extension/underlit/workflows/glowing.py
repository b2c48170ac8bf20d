"""The preview in words and in the report."""

from __future__ import annotations

from collections.abc import Sequence

from ..glow.display import EXPONENT
from ..glow.picture import Picture
from ..glow.sources import Sources
from ..language import and_more, figure, later, mm, say, say_count
from ..model.case import Case
from ..model.finding import Finding
from ..model.glow import WindowGlow
from .report import rounded

#: Windows whose mean light differs by less look alike.
ALIKE = 0.9

#: Said where a circuit is there and nothing burns.
ALL_DARK = later("No light burns: none lies in a closed circuit. Validate the card to see why.")

#: So many dark lights are named.
MOST_NAMED = 4

Probe = tuple[tuple[float, float], float]


def glow_report(
    case: Case,
    sources: Sources,
    windows: Sequence[WindowGlow],
    probes: Sequence[Probe],
    picture: Picture | None,
) -> dict[str, object]:
    """The report's key `glow`: mm, mA, lux; "scattering" says what is not counted."""
    return {
        "probes": [{"at": [rounded(x), rounded(y)], "lux": precise(lux)} for (x, y), lux in probes],
        "openings": [_window(case, window) for window in windows],
        "lights": _lights(sources),
        "scattering": "left out",
        "picture": None if picture is None else _picture(picture),
    }


def precise(value: float) -> float:
    """Nine digits: more than any light is known by, the same on every machine."""
    return float(f"{value:.9g}")


def _window(case: Case, window: WindowGlow) -> dict[str, object]:
    opening = case.card.openings[window.opening]
    even, spot = window.evenness, window.hot_spot
    return {
        "number": opening.number,
        "name": opening.name,
        "lights": list(window.lights),
        "transmission": precise(window.transmission),
        "mean_lux": precise(window.mean),
        "brightest_lux": precise(window.brightest),
        "darkest_lux": precise(window.darkest),
        "evenness": None if even is None else round(even, 6),
        "hot_spot": None if spot is None else rounded(spot),
    }


def _lights(sources: Sources) -> list[dict[str, object]]:
    return [
        {
            "id": name,
            "current_ma": precise(float(sources.current_ma[i])),
            "candela": precise(float(sources.candela[i])),
            "depth": rounded(float(sources.depth[i])),
        }
        for i, name in enumerate(sources.ids)
    ]


def _picture(picture: Picture) -> dict[str, object]:
    height, width, _ = picture.pixels.shape
    return {
        "box": [rounded(v) for v in picture.box],
        "pixels": [width, height],
        "full_lux": precise(picture.full),
        "exponent": EXPONENT,
    }


# ---- words ---------------------------------------------------------------------------------------


def closing_words(
    case: Case,
    sources: Sources,
    windows: Sequence[WindowGlow],
    findings: Sequence[Finding],
    picture: Picture | None,
) -> str:
    """What the editor says when the picture is drawn, or why it is not."""
    if picture is None:
        stop = next(f for f in findings if f.severity == "stop")
        nothing = say("No glow drawn.")
        return f"{nothing} {stop.message} {stop.remedy}"
    lines = [say("Glow drawn, as in a dim room.")]
    lines += [_burning(sources)] if sources.ids else [say(ALL_DARK)]
    if sources.ids and not (case.card.strips and case.card.cells):
        lines.append(say("Shown as if all lights burned: battery or tape are still missing."))
    dark = [light for light in case.card.lights if light.id not in sources.ids]
    if dark and sources.ids:
        names = and_more([case.inner(light) for light in dark], MOST_NAMED)
        lines.append(
            say(
                "Dark: {lights} (no closed circuit, too little current, or facing an edge).",
                lights=names,
            )
        )
    lines += _windows(case, windows, findings)
    return "\n".join(lines)


def _burning(sources: Sources) -> str:
    return say_count(
        "{number} light at {current} mA, {depth} mm below the panel; direct light only.",
        "{number} lights at {current} mA, {depth} mm below the panel; direct light only.",
        len(sources.ids),
        current=_span([float(v) for v in sources.current_ma]),
        depth=_span([float(v) for v in sources.depth]),
    )


def _span(values: Sequence[float]) -> str:
    low, high = figure(min(values)), figure(max(values))
    return low if low == high else say("{low} to {high}", low=low, high=high)


def _windows(case: Case, windows: Sequence[WindowGlow], findings: Sequence[Finding]) -> list[str]:
    """The brightest and the dimmest lit window, and bright spots."""
    openings = case.card.openings
    lit = sorted((w for w in windows if w.lights), key=lambda w: -w.mean)
    lines = []
    if len(lit) > 1:
        first, last = (openings[w.opening].number for w in (lit[0], lit[-1]))
        share = lit[-1].mean / lit[0].mean
        lines.append(
            say(
                "Brightest window: {first}. Dimmest lit one: {last} ({share} % of it).",
                first=first,
                last=last,
                share=f"{100.0 * share:.0f}",
            )
            if share < ALIKE
            else say("All {number} lit windows are about equally bright.", number=len(lit))
        )
    spots = [w for w in windows if w.lights and w.hot_spot is not None]
    told = [f for f in findings if f.rule == "glow-uneven"]
    named = {name for f in told for name in f.objects}
    spots = [w for w in spots if openings[w.opening].name in named]
    if spots:
        widest = max(spots, key=lambda w: w.hot_spot or 0.0)
        few = say_count(
            "{number} window has a bright spot, up to {size} across.",
            "{number} windows have a bright spot, up to {size} across.",
            len(spots),
            size=mm(widest.hot_spot or 0.0),
        )
        cures = {f.remedy for f in told}
        each = say("Validate the card to see what would even each.")
        lines.append(f"{few} {cures.pop() if len(cures) == 1 else each}")
    return lines
