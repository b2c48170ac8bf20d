"""Pack: everything of a card that its maker hands on, as files for one folder."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import fill
from typing import Any

import tomli_w

from ..errors import UnfinishedCard
from ..language import later, say
from ..model.drawing import Drawing
from ..model.finding import Finding
from ..profiles import Profile
from ..records import record
from ..rules import check_all
from ..sheet.kinds import KINDS
from . import build_sheet, export, preview
from .accepting import split_accepted
from .exporting import stem_of
from .report import build_report
from .telling import tally
from .validate import case_of, verdict_of

#: Papers that a follower may have.
PAPERS = ("a4", "letter")

READ_ME = "read-me.txt"

CAUTION = later(
    "The card holds a coin battery. Swallowed, it can kill a small child within hours: keep the "
    "card and spare batteries away from children, and go to an emergency department at once if "
    "one may have been swallowed. Cut away from your hand. Everything here is an estimate from a "
    "drawing; the maker of your battery and local rules come first."
)


@record
class Pack:
    """What packing gives: `files` maps names to bytes, `folder` is the name of theirs.

    `drawing` is the name of the drawing among them, which is added by who can write one.
    """

    folder: str
    drawing: str
    files: Mapping[str, bytes]
    report: dict[str, object]
    message: str
    select: tuple[str, ...] = ()

    @property
    def summary(self) -> str:
        """Plain text for a shell."""
        return self.message


def pack(drawing: Drawing, profile: Profile, settings: tuple[str, dict[str, Any]]) -> Pack:
    """Sheets in both papers, cutter files, picture, page to share, settings and a short text.

    `settings`: the shipped profile and what is laid over it (see `profiles.carrying`).
    """
    case = case_of(drawing, profile)
    findings, accepted = split_accepted(check_all(case), case.card, drawing.remembered)
    name = stem_of(drawing.name)
    files: dict[str, bytes] = {}
    files |= _sheets(drawing, profile, name)
    files |= _picture(drawing, profile, name)
    cutter, refused = _cutter_files(drawing, profile)
    files |= cutter
    files[f"{name}-settings.toml"] = _settings(*settings)
    files[READ_ME] = _text(name, files, findings, refused).encode()
    report = build_report("pack", drawing.name, case, findings, accepted, verdict_of(findings))
    folder, own = f"{name}-to-share", f"{name}.svg"
    report["pack"] = {"folder": folder, "files": [own, *files]}
    return Pack(folder, own, files, report, _words(folder, files, findings, refused))


def _sheets(drawing: Drawing, profile: Profile, name: str) -> dict[str, bytes]:
    """The making sheet on every paper, the supplies, the page to share."""
    files: dict[str, bytes] = {}
    for paper in PAPERS:
        pages = "all" if paper == PAPERS[0] else ",".join(KINDS)  # one page to share is enough
        choices = build_sheet.read_choices(paper, "1", pages)
        made = build_sheet.build_sheet(drawing, profile, choices).files
        for own, data in made.items():
            if own.endswith(".pdf"):
                files[f"{name}-build-sheet-{paper}.pdf"] = data
            elif own.endswith((".html", ".csv")):
                files[own] = data
    return files


def _picture(drawing: Drawing, profile: Profile, name: str) -> dict[str, bytes]:
    """The card in the dark."""
    png = preview.preview(drawing, profile, preview.Wish()).png
    return {} if png is None else {f"{name}-glow.png": png}


def _cutter_files(drawing: Drawing, profile: Profile) -> tuple[dict[str, bytes], str | None]:
    """Files for a cutter, or why there are none."""
    try:
        return dict(export.export(drawing, profile, export.Choices()).files), None
    except UnfinishedCard as refusal:
        return {}, str(refusal)


def _settings(based_on: str, own: dict[str, Any]) -> bytes:
    head = say(
        "# How this card was judged. The drawing carries the same settings in itself;\n"
        "# this file is for other cards: choose it as your own profile."
    )
    return (f"{head}\n" + tomli_w.dumps({"based-on": based_on, **own})).encode()


#: What the files are, by the end of their names.
DESCRIBED = (
    ("-share.html", later(
        "open it in any browser and press the marked spot: the card in the dark, the steps, what "
        "it takes"
    )),
    ("-glow.png", later("the card in the dark, as a picture")),
    ("-build-sheet-a4.pdf", later(
        "the making sheet for A4: print at 100 %, measure the 100 mm line"
    )),
    ("-build-sheet-letter.pdf", later("the same for Letter paper")),
    ("-supplies.csv", later("what it takes, for a spreadsheet")),
    ("-settings.toml", later(
        "how the card was judged; choose it as your own profile for others"
    )),
)  # fmt: skip


def _text(
    name: str, files: Mapping[str, bytes], findings: Sequence[Finding], refused: str | None
) -> str:
    lines = [say("{name}: a card that lights up", name=name), ""]
    stops = [finding for finding in findings if finding.severity == "stop"]
    if stops:
        lines += [say("NOT READY: {faults}. Do not build it yet.", faults=tally(stops)), ""]
    own = say("the drawing, for Inkscape with Underlit, or to look at anywhere")
    rows = [(f"{name}.svg", own)]
    rows += [(f"{name}{end}", say(words)) for end, words in DESCRIBED if f"{name}{end}" in files]
    lines += [f"{file}\n    {words}" for file, words in rows]
    cutter = [file for file in files if file.endswith((".svg", ".dxf"))]
    if cutter:
        every = say("{name}-tape ..., -base ..., -guides ... (.svg and .dxf)", name=name)
        what = say(
            "for an electronic cutter, real size in mm, one file for each material; cut the test "
            "first"
        )
        lines.append(f"{every}\n    {what}")
    elif refused:
        lines += ["", say("No cutter files: {why}", why=refused)]
    return "\n".join([*lines, "", fill(say(CAUTION), 78), ""])


#: What the closing words name, by the end of a file's name.
HELD = (
    (later("making sheets for A4 and Letter"), ".pdf"),
    (later("cutter files"), ".dxf"),
    (later("picture"), ".png"),
    (later("page to share"), ".html"),
)


def _words(
    folder: str, files: Mapping[str, bytes], findings: Sequence[Finding], refused: str | None
) -> str:
    held = [say(words) for words, end in HELD if any(name.endswith(end) for name in files)]
    things = ", ".join([*held, say("your settings")])
    lines = [say("Folder {folder} ready: {things}.", folder=folder, things=things)]
    if any(finding.severity == "stop" for finding in findings):
        faults = tally(findings)
        lines.append(say("The card is not ready: {faults}. Every page says so.", faults=faults))
    if refused:
        lines.append(say("Without cutter files. {why}", why=refused))
    lines.append(say("Keep coin batteries away from children."))
    return "\n".join(lines)
