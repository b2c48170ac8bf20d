"""What looks doubtful in a drawing that is being got ready: one sentence each, with what to do."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry.base import BaseGeometry

from ..interpretation.frames import BASE_MARGIN
from ..interpretation.outlines import Outlines
from ..language import decimal, figure, later, mm, say, say_count
from ..model.case import Case
from ..model.drawing import LABELS, Drawing, Page
from ..model.finding import Finding
from ..model.naming import by_program
from .pieces import SMALLEST_CARD, Piece, inner_edges

#: Cards that are usually made, width by height in mm. ISO 216 A sizes; inch sizes are common
#: practice, no source.
USUAL = {
    "A6": (105.0, 148.0),
    "A5": (148.0, 210.0),
    "DL": (99.0, 210.0),
    "5 x 7 in": (127.0, 177.8),
    "4 1/4 x 5 1/2 in": (107.95, 139.7),
    "4 x 6 in": (101.6, 152.4),
    "5 x 5 in": (127.0, 127.0),
    "6 x 6 in": (152.4, 152.4),
}

#: A label this like a default one may be meant as that.
ALIKE = 0.8

#: Layers that makers name by the words of our messages.
PLAIN = {
    later("panel"): "Die cut",
    later("windows"): "Die cut",
    later("back sheet"): "Base",
    later("battery"): "Power",
    later("vellum"): "Diffuser",
}

#: A panel is of a usual size within this (mm).
NEAR_SIZE = 1.0

#: What older drawing programs took for one inch (px); CSS takes 96.
OLD_INCHES = (72, 90)
CSS_INCH = 96.0

#: Cards are hardly ever larger than this on their longer side (mm): an A3 sheet (ISO 216). Common
#: practice, no source.
LARGEST_CARD = 420.0

#: More pieces than this are not listed one by one.
MOST_LISTED = 12

#: From so many specks on, the trace wants cleaning.
MANY_SPECKS = 200


def nothing_to_read(empty: bool, outlines: Outlines, instead: str = "") -> Finding:
    """The finding of a drawing without any panel; `instead`: what to do with what is there."""
    if empty:
        message = say("The page is empty; I have put the layers in.")
        remedy = say("Draw the edge of your panel and its windows on Die cut, then run this again.")
    elif outlines.frame_doubtful:
        message = say(
            "The only outline that could be the panel is as large as the page, so I took it for "
            "the page's frame and changed nothing."
        )
        remedy = say("If it is the edge of your panel, select it and run this again.")
    elif outlines.specks:
        message = say_count(
            "All that closes here is smaller than 2 mm² ({number} outline), so I took it as dust "
            "and changed nothing: I find no closed outline that could be the panel.",
            "All that closes here is smaller than 2 mm² ({number} outlines), so I took it as dust "
            "and changed nothing: I find no closed outline that could be the panel.",
            outlines.specks,
        )
        remedy = say(
            "If it is the card, it is drawn far too small: enlarge it, then run this again."
        )
    else:
        message = say("I find no closed outline that could be the panel, so I changed nothing.")
        remedy = instead or say(
            "Trace the picture or turn text into outlines (Path > Object to Path), or close the "
            "panel's edge with the node tool. Then select it and run this again."
        )
    return Finding("layer-missing", "stop", None, (), message, remedy)


def hints(
    case: Case,
    pieces: Sequence[Piece],
    margin: float | None,
    base: BaseGeometry | None,
    specks: int,
) -> tuple[str, ...]:
    """Everything that looks doubtful, one sentence each.

    `pieces` are those of a cutting sheet from which a panel has still to be chosen.
    """
    told = []
    panels = case.card.panels
    if pieces:
        told.append(_sheet(pieces))
    elif len(panels) == 1:
        x0, y0, x1, y1 = panels[0].outline.bounds
        told += _other_inch((x1 - x0, y1 - y0)) or _odd_size((x1 - x0, y1 - y0))
    if specks >= MANY_SPECKS:
        told.append(say("So many specks are dust in the scan: let the tracer leave specks out."))
    if case.apart:
        told.append(
            say("Back sheet and panel do not lie over each other: move one onto the other.")
        )
    if margin is not None and panels and base is None:
        told.append(_no_base_drawn(case.card.base_drawn, bool(pieces), margin))
    return tuple(told)


def _no_base_drawn(there: bool, several: bool, margin: float) -> str:
    if there:
        return say("There is a back sheet already, so I drew none.")
    if several:
        return say("I draw the back sheet as soon as the panel is chosen.")
    return say(
        "The panel is too small for a back sheet {margin} inside its edge.", margin=mm(margin)
    )


def frame_doubt(outlines: Outlines) -> tuple[Finding, ...]:
    """The finding on an outline as large as the page that may be the panel; () without one."""
    if not outlines.frame_doubtful:
        return ()
    return tuple(f for f in outlines.findings if f.rule == "object-skipped")[:1]


def base_hint(outlines: Outlines, base_drawn: bool) -> tuple[str, ...]:
    """What to do where the back sheet seems to be drawn on the panel's layer."""
    found = () if base_drawn else inner_edges(outlines)
    return tuple(
        say(
            "{name} runs just inside the panel's edge, so I take it as a window as large as the "
            "panel. If it is your back sheet, select it and run this again.",
            name=_told(edge.object),
        )
        for edge in found[:1]
    )


def layer_hints(drawing: Drawing) -> tuple[str, ...]:
    """Layers that are not read although their label is nearly one that would be."""
    told = []
    for layer in drawing.layers:
        label = layer.label.strip()
        meant = _nearly(label) if layer.role is None and label else None
        if meant is not None:
            told.append(
                say(
                    'I do not read the layer "{label}". If it belongs to the card, rename it to '
                    '"{meant}" (or "{meant} #2").',
                    label=label,
                    meant=meant,
                )
            )
    return tuple(told)


def _nearly(label: str) -> str | None:
    """The default label that a label begins with ("Tape copy"), nearly is or says plainly."""
    plain = PLAIN | {say(word).casefold(): meant for word, meant in PLAIN.items()}
    if label.casefold() in plain:
        return plain[label.casefold()]
    for meant in LABELS.values():
        if label.casefold().startswith(f"{meant} ".casefold()):
            return meant
    import difflib  # late: few drawings have layers of other names

    words = {meant.casefold(): meant for meant in LABELS.values()}
    near = difflib.get_close_matches(label.casefold(), list(words), n=1, cutoff=ALIKE)
    return words[near[0]] if near else None


def edge_hints(outlines: Outlines, page: Page) -> tuple[str, ...]:
    """What lies across a panel's edge, and a panel that may be a mere frame round the card."""
    told = []
    if outlines.notches:
        told.append(
            say_count(
                "{number} outline crosses the panel's edge, so I cut it off there. Move it clear "
                "of the panel if it is a piece of its own.",
                "{number} outlines cross the panel's edge, so I cut it off there. Move it clear "
                "of the panel if it is a piece of its own.",
                outlines.notches,
            )
        )
    full = {piece.opening for piece in outlines.loose}
    if len(outlines.panels) == len(outlines.openings) == 1 and full:
        frame, page_edge = outlines.panels[0], (0.0, 0.0, page.width, page.height)
        apart = zip(frame.outline.bounds, page_edge, strict=True)
        if all(abs(a - b) <= BASE_MARGIN for a, b in apart):
            told.append(
                say(
                    "{name} is nearly as large as the page and holds one large window. If it is "
                    "only a frame, select the edge of your panel and run this again.",
                    name=_told(frame.object),
                )
            )
    return tuple(told)


def _told(name: str) -> str:
    """What an outline is called at the beginning of a sentence."""
    return say("An outline") if by_program(name) else name


def open_hints(outlines: Outlines) -> tuple[str, ...]:
    """What to do about outlines that do not close."""
    told = [
        say(
            "{name} goes round so much that it may be the panel, but it does not close: close it "
            "with the node tool, then run this again.",
            name=_told(name),
        )
        for name in outlines.unclosed[:1]
    ]
    if outlines.gaps:
        told.append(
            say_count(
                "{number} outline has a small gap: close it with the node tool, then run this "
                "again.",
                "{number} outlines have a small gap: close it with the node tool, then run this "
                "again.",
                outlines.gaps,
            )
        )
    if outlines.chained:
        told.append(
            say_count(
                "{number} outline comes as separate lines: select them, use Path > Combine, select "
                "all nodes and join them (node tool), then run this again.",
                "{number} outlines come as separate lines: select them, use Path > Combine, select "
                "all nodes and join them (node tool), then run this again.",
                outlines.chained,
            )
        )
    return tuple(told)


def _sheet(pieces: Sequence[Piece]) -> str:
    """The pieces of a cutting sheet by number."""
    lines = [_piece(piece) for piece in pieces[:MOST_LISTED]]
    if len(pieces) > MOST_LISTED:
        more = len(pieces) - MOST_LISTED
        lines.append(say("And {number} more, numbered on the drawing.", number=more))
    head = say("This looks like a cutting sheet of separate pieces; I have numbered them:")
    tail = say("Select the one that is your panel (or give its number) and run this again.")
    return "\n".join((head, *(f"  {line}" for line in lines), tail))


def _piece(piece: Piece) -> str:
    """One piece of a cutting sheet: its number, its size, its windows."""
    return say_count(
        "Piece {piece}: {width} x {height}, {number} window.",
        "Piece {piece}: {width} x {height}, {number} windows.",
        piece.openings,
        piece=piece.number,
        width=figure(piece.size[0]),
        height=mm(piece.size[1]),
    )


def _other_inch(size: tuple[float, float]) -> list[str]:
    """Whether the panel would be a usual card had its file been made for another inch."""
    if _usual(size) is not None:
        return []
    for dots in OLD_INCHES:
        factor = CSS_INCH / dots
        larger = (size[0] * factor, size[1] * factor)
        name = _usual(larger)
        if name is not None:
            return [
                say(
                    "Files made for {dots} dots per inch come out too small: at the right size "
                    "this panel would be {width} x {height} ({name}). If so, enlarge everything "
                    "to {share} %.",
                    dots=dots,
                    width=figure(larger[0]),
                    height=mm(larger[1]),
                    name=name,
                    share=decimal(f"{100 * factor:.2f}"),
                )
            ]
    return []


def _odd_size(size: tuple[float, float]) -> list[str]:
    """Whether a panel is so small or so large that its drawing has probably the wrong scale."""
    if SMALLEST_CARD <= max(size) <= LARGEST_CARD:
        return []
    if max(size) < SMALLEST_CARD:
        return [
            say(
                "That is very small for a card. If it is the wrong size, select everything and set "
                "its width (lock the proportions), then run this again."
            )
        ]
    return [
        say(
            "That is very large for a card. If it is the wrong size, select everything and set "
            "its width (lock the proportions), then run this again."
        )
    ]


def _usual(size: tuple[float, float]) -> str | None:
    """The name of a usual card of this size, lying or standing."""
    for name, usual in USUAL.items():
        for turned in (usual, usual[::-1]):
            if max(abs(size[0] - turned[0]), abs(size[1] - turned[1])) <= NEAR_SIZE:
                return name
    return None
