"""A strict first look at the bytes of a file, before any tree is built.

The parser that the editor's library uses repairs what it gets and expands entities; so the file
is held against expat first, which does neither. Small internal text entities are read, since a
common exporter writes them; parameter entities, external ones, nested ones and those that would
grow large are refused and never expanded or fetched.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from xml.parsers import expat

from underlit.errors import UnreadableDrawing
from underlit.language import decimal, later, say, thousands

#: Largest file that is read (bytes), and most characters of one path.
MOST_BYTES = 40_000_000
MOST_PATH = 5_000_000

#: Groups within groups, and elements in all.
MOST_DEPTH = 500
MOST_ELEMENTS = 500_000

#: Longest text of one entity, and most characters that all uses of entities may come to.
MOST_ENTITY = 4_096
MOST_EXPANDED = 1_000_000

_SVG_ROOT = "http://www.w3.org/2000/svg svg"

#: First bytes of kinds of files that makers may confuse with a drawing.
_OTHER_KINDS = (
    (
        b"\x1f\x8b",
        later("This file is a compressed drawing (.svgz). Save it as Inkscape SVG or Plain SVG."),
    ),
    (
        b"%PDF",
        later("This file is a PDF. Open it in Inkscape and save it as Inkscape SVG."),
    ),
    (
        b"%!PS",
        later("This file is a PostScript file. Open it in Inkscape and save it as Inkscape SVG."),
    ),
    (
        b"\x89PNG",
        later(
            "This file is a picture (PNG). Draw the card in Inkscape and save it as Inkscape SVG."
        ),
    ),
    (
        b"\xff\xd8\xff",
        later(
            "This file is a picture (JPEG). Draw the card in Inkscape and save it as Inkscape SVG."
        ),
    ),
    (
        b"PK\x03\x04",
        later("This file is a ZIP archive. Unpack it and choose the SVG file in it."),
    ),
)

_NESTED = r"&(?!#|amp;|lt;|gt;|quot;|apos;)[^;\s]+;|<"
_PARAMETER = rb"%[^\s%;'\"<>]+;"


def check_bytes(data: bytes) -> None:
    """Raise UnreadableDrawing, one sentence, unless these bytes are a sane SVG file."""
    _check_kind(data)
    look = _Look(data)
    try:
        look.parse()
    except expat.ExpatError as fault:
        raise UnreadableDrawing(_words(fault, data, look)) from None
    except (ValueError, LookupError):
        raise UnreadableDrawing(say(_ENCODING)) from None


def _check_kind(data: bytes) -> None:
    if not data.strip():
        raise UnreadableDrawing(
            say(
                "This file is empty; there is no drawing in it. Take an older copy, or save it "
                "again."
            )
        )
    for head, words in _OTHER_KINDS:
        if data.startswith(head):
            raise UnreadableDrawing(say(words))
    if len(data) > MOST_BYTES:
        raise UnreadableDrawing(
            say(
                "This file has {size} MB; the most is {most} MB. Link pictures instead of "
                "embedding them, and simplify long paths.",
                size=round(len(data) / 1e6),
                most=round(MOST_BYTES / 1e6),
            )
        )


class _Look:
    """One pass over a file with limits on what it may hold."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.depth = 0
        self.elements = 0
        self.expanded = 0
        self.doctype = 0
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._root
        self.parser.EntityDeclHandler = self._entity
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.EndDoctypeDeclHandler = self._subset

    def parse(self) -> None:
        """Raises ExpatError, and UnreadableDrawing where a limit is passed."""
        self.parser.Parse(self.data, True)

    def _root(self, name: str, _attributes: dict[str, str]) -> None:
        if name != _SVG_ROOT:
            if name == "svg":
                raise UnreadableDrawing(say(_NAMELESS))
            shown = name.rpartition(" ")[2][:40]
            raise UnreadableDrawing(
                say(
                    "This file is no SVG drawing: it begins with <{name}>. Choose the SVG file of "
                    "your card.",
                    name=shown,
                )
            )
        self.depth = self.elements = 1
        self.parser.StartElementHandler, self.parser.EndElementHandler = self._counters()

    def _counters(self) -> tuple[Callable[[str, dict[str, str]], None], Callable[[str], None]]:
        """Handlers of every further element: as little as can be, they run 10,000 times."""
        depth = elements = 1

        def start(_name: str, attributes: dict[str, str]) -> None:
            nonlocal depth, elements
            depth += 1
            elements += 1
            if depth > MOST_DEPTH or elements > MOST_ELEMENTS:
                self._refuse_size(depth)
            if "d" in attributes or "points" in attributes:
                path = attributes.get("d") or attributes.get("points") or ""
                if len(path) > MOST_PATH:
                    self._refuse_path(attributes.get("id", ""), len(path))

        def end(_name: str) -> None:
            nonlocal depth
            depth -= 1
            self.depth = depth

        return start, end

    @staticmethod
    def _refuse_size(depth: int) -> None:
        if depth > MOST_DEPTH:
            raise UnreadableDrawing(
                say(
                    "This drawing has groups within groups more than {most} deep. Ungroup some.",
                    most=MOST_DEPTH,
                )
            )
        raise UnreadableDrawing(
            say(
                "This drawing has more than {most} objects. Remove what is no part of the card.",
                most=thousands(MOST_ELEMENTS),
            )
        )

    @staticmethod
    def _refuse_path(ident: str, length: int) -> None:
        words = {"size": decimal(f"{length / 1e6:.1f}"), "most": round(MOST_PATH / 1e6)}
        if ident:
            raise UnreadableDrawing(
                say(
                    "One path {name} is {size} MB long; the most is {most} MB. Simplify it (Path "
                    "menu).",
                    name=ident,
                    **words,
                )
            )
        raise UnreadableDrawing(
            say(
                "One path is {size} MB long; the most is {most} MB. Simplify it (Path menu).",
                **words,
            )
        )

    def _entity(
        self,
        name: str,
        is_parameter: int,
        value: str | None,
        _base: str | None,
        _system: str | None,
        _public: str | None,
        _notation: str | None,
    ) -> None:
        if is_parameter or value is None:
            raise UnreadableDrawing(say(_FOREIGN))
        if len(value) > MOST_ENTITY or re.search(_NESTED, value):
            raise UnreadableDrawing(say(_BOMB))
        uses = sum(self.data.count(f"&{name};".encode(code)) for code in ("utf-8", "utf-16-le"))
        uses += self.data.count(f"&{name};".encode("utf-16-be"))
        self.expanded += uses * len(value)
        if self.expanded > MOST_EXPANDED:
            raise UnreadableDrawing(say(_BOMB))

    def _doctype(self, *_named: object) -> None:
        self.doctype = self.parser.CurrentByteIndex

    def _subset(self) -> None:
        """After an unknown parameter entity, expat goes on without a word."""
        subset = self.data[self.doctype : self.parser.CurrentByteIndex].replace(b"\0", b"")
        if re.search(_PARAMETER, subset):
            raise UnreadableDrawing(say(_FOREIGN))


_FOREIGN = later(
    "This file wants to bring in text from elsewhere (an entity in its DOCTYPE), which is not "
    "done. Open it in Inkscape and save it as Plain SVG."
)
_BOMB = later(
    "This file has shorthands for text (entities in its DOCTYPE) that build on each other or grow "
    "too large. Open it in Inkscape and save it as Plain SVG."
)
_NAMELESS = later(
    "This file does not say that it is SVG (its xmlns is missing). Open it in Inkscape and save it "
    "as Inkscape SVG."
)
_ENCODING = later(
    "The letters of this file are not in the encoding that its first line names. Open it in "
    "Inkscape and save it again."
)


def _words(fault: expat.ExpatError, data: bytes, look: _Look) -> str:
    """What an expat error means to a maker."""
    errors = expat.errors
    text = errors.messages.get(fault.code, "")
    if text in {errors.XML_ERROR_UNKNOWN_ENCODING, errors.XML_ERROR_INCORRECT_ENCODING}:
        return say(_ENCODING)
    if fault.code == 43:  # amplification limit, newer than the names in the module
        return say(_BOMB)
    if text in _CUT_OFF and look.elements:
        return say(
            "This file is cut off at line {line}: its end is missing. Take an older copy, or save "
            "it again.",
            line=fault.lineno,
        )
    if text == errors.XML_ERROR_INVALID_TOKEN and not _decodes(data):
        return say(_ENCODING)
    if not look.elements:
        return say(
            "This file is no SVG drawing: it does not begin like one. If Inkscape can open it, "
            "save it there as Inkscape SVG."
        )
    return say(
        "This file is damaged at line {line}, column {column} ({fault}). Take an older copy, or "
        "save it again.",
        line=fault.lineno,
        column=fault.offset + 1,
        fault=say(text),
    )


#: What expat calls the damage that is met; its rarer words stay English.
_DAMAGE = (
    later("not well-formed (invalid token)"),
    later("mismatched tag"),
    later("duplicate attribute"),
    later("junk after document element"),
    later("undefined entity"),
    later("reference to invalid character number"),
    later("unbound prefix"),
)

_CUT_OFF = frozenset(
    {
        expat.errors.XML_ERROR_NO_ELEMENTS,
        expat.errors.XML_ERROR_UNCLOSED_TOKEN,
        expat.errors.XML_ERROR_PARTIAL_CHAR,
        expat.errors.XML_ERROR_UNCLOSED_CDATA_SECTION,
    }
)


def _decodes(data: bytes) -> bool:
    """Whether the bytes are text in the encoding that the first line names."""
    named = re.search(rb"""encoding\s*=\s*["']([A-Za-z0-9._-]+)""", data[:200])
    try:
        data.decode(named[1].decode("ascii") if named else "utf-8")
    except (UnicodeDecodeError, LookupError):
        return False
    return True
