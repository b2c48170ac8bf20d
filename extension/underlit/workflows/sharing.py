"""The page to share: card in the dark, steps, supplies and cautions in one HTML file."""

from __future__ import annotations

from collections.abc import Sequence

from .. import __version__
from ..glow.sources import Sources
from ..language import begun, decimal, say
from ..model.case import Case
from ..model.finding import Finding
from ..records import record
from ..share import words
from ..share.card import Said
from ..share.closing import Spot, spot_of
from ..share.frames import Frames, changing, frames_of
from ..share.page import Share, page_of
from ..sheet.notes import missing_words
from ..sheet.scene import Scene
from ..sheet.steps import Step, everything
from ..sheet.supplies import Supplies
from ..sheet.wording import closing_words
from .preview import Wish, as_if, sources_for
from .report import rounded
from .telling import tally

#: A page is smaller than this (bytes): it is opened on phones, and pasted into web logs.
LARGEST = 1_000_000

#: Tried in this order until a page is small enough: pixels of the glow, quality of its pictures
#: (WebP; None: exact), how closely outlines are followed (mm), how the circuit is drawn.
FINENESS: tuple[tuple[int, int | None, float, str], ...] = (
    (900_000, None, 0.02, "full"),
    (900_000, 95, 0.02, "full"),
    (500_000, 85, 0.05, "plain"),
    (300_000, 75, 0.2, "none"),
    (120_000, 65, 0.5, "none"),
)

#: Names of more things than this could not be read in one picture.
MOST_NAMED = 400


@record
class Shared:
    """The file, and what the report says of it."""

    name: str
    data: bytes
    figures: dict[str, object]

    @property
    def words(self) -> str:
        """What the closing message says: that it is there, and that it is too large where it is."""
        if len(self.data) < LARGEST:
            return say("Page to share saved: one file, it needs no network.")
        size = len(self.data) / 1_000_000
        most = LARGEST / 1_000_000
        return say(
            "Page to share saved, but it is large ({size} MB, wanted: under {most}): this card has "
            "very much on it. It may be slow on a phone, and mail or a web log may refuse it.",
            size=decimal(f"{size:.1f}"),
            most=decimal(f"{most:g}"),
        )


def share_page(
    case: Case,
    scene: Scene,
    supplies: Supplies,
    findings: Sequence[Finding],
    steps: Sequence[Step],
    name: str,
    drawing: str,
) -> Shared:
    """The finest page that stays small enough."""
    sources = sources_for(case, Wish())
    spot, missing = spot_of(scene), missing_words(scene)
    share = Share(
        title=_title(name),
        drawing=drawing,
        version=__version__,
        card=case.card,
        scene=scene,
        spot=spot,
        steps=steps,
        supplies=supplies,
        findings=findings,
        said=_said(case, scene, sources, spot),
        circuit_says=words.circuit(len(scene.tapes), len(scene.lights)),
        faults=_faults(findings),
        lacking=None if missing is None else say(words.SO_FAR, missing=missing),
    )
    crowded = len(everything(scene)) > MOST_NAMED
    for pixels, quality, fine, circuit in FINENESS:
        if crowded and circuit == "full":
            continue
        frames = frames_of(case.card, sources, case.profile, pixels, quality)
        data = page_of(share, frames, fine, circuit)
        if len(data) < LARGEST:
            break
    file = f"{name}-share.html"
    return Shared(file, data, _figures(file, data, share, sources, frames, circuit))


def _figures(
    file: str, data: bytes, share: Share, sources: Sources, frames: Frames | None, circuit: str
) -> dict[str, object]:
    """The report's key `share`; mm."""
    spot = share.spot
    return {
        "file": file,
        "bytes": len(data),
        "lights": list(sources.ids),
        "closes": None if spot is None else spot.way,
        "press_at": None if spot is None else [rounded(v) for v in spot.at],
        "pictures": 0 if frames is None else len(frames.uris),
        "pixels": None if frames is None else list(frames.pixels),
        "steps": len(share.steps),
        "circuit": circuit,
    }


def _title(name: str) -> str:
    """A file's name as a heading: firefly-jar -> Firefly jar."""
    plain = " ".join(name.replace("-", " ").replace("_", " ").split()) or name
    return begun(plain)


def _faults(findings: Sequence[Finding]) -> str | None:
    stops = [finding for finding in findings if finding.severity == "stop"]
    return tally(stops) if stops else None


def _said(case: Case, scene: Scene, sources: Sources, spot: Spot | None) -> Said:
    way = closing_words(scene)
    remarks = []
    if not case.card.lights:
        remarks.append(say(words.NO_LIGHT))
    elif not sources.ids:
        remarks.append(say(words.NOTHING_BURNS))
    else:
        if spot is not None:
            remarks.append(say(_lasting(spot)))
        if as_if(case, Wish()):
            remarks.append(say(words.AS_IF))
        if changing(case.card, sources, case.profile):
            remarks.append(say(words.CHANGING))
        remarks.append(say(words.BY_COMPUTING))
    return Said(
        windows=words.windows(len(case.card.openings)),
        closing=begun(way),
        shining=_shining(case, sources),
        remarks=tuple(remarks),
    )


def _lasting(spot: Spot) -> str:
    """How long it shines."""
    if spot.always:
        return words.ALWAYS
    return words.HOLD if spot.held else words.ONCE


def _shining(case: Case, sources: Sources) -> str:
    lights = case.card.lights
    dark = [case.inner(light) for light in lights if light.id not in sources.ids]
    return words.shining(len(lights), dark)
