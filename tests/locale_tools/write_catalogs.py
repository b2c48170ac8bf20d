"""Catalogs of translations: what is to be translated, and what the host and the actions read.

    python tests/locale_tools/write_catalogs.py
    python tests/locale_tools/write_catalogs.py --new fr

Gathers the texts of the dialogs and of every `say`, `say_count` and `later` in the source, brings
the `.po` files of each language up to date (new texts empty, texts that are gone left out) and
compiles them to the one `.mo` that is read. A language has one `.po` file for each room of the
house: `extension/locale/de/rules.po`. Translating is done there, by any editor for such files.
`--new` begins a language.
"""

from __future__ import annotations

import argparse
import ast
import io
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from lxml import etree

EXTENSION = Path(__file__).resolve().parents[2] / "extension"
LOCALE = EXTENSION / "locale"
DOMAIN = "underlit"

INX = "{http://www.inkscape.org/namespace/inkscape/extension}"

#: Stands in for the date of a catalog, which is otherwise that of the moment of reading it.
UNDATED = datetime(2000, 1, 1, tzinfo=UTC)

#: Elements whose text the host translates, and attributes that it does.
TEXTS = tuple(f"{INX}{name}" for name in ("name", "label", "option", "menu-tip"))
ATTRIBUTES = ("gui-text", "gui-description")

#: The functions that take texts, and how many texts they take.
TAKES = {"say": 1, "later": 1, "say_count": 2}

Text = str | tuple[str, str]


def texts_of(dialog: Path) -> list[str]:
    """Texts of one dialog in the order of the file."""
    found = []
    for element in etree.parse(str(dialog)).iter(f"{INX}*"):
        found += [element.get(name, "") for name in ATTRIBUTES]
        if element.tag in TEXTS:
            found.append(" ".join((element.text or "").split()))
    return [text for text in found if text]


def said_in(source: Path) -> list[Text]:
    """Texts of one module in the order of the file; a pair is one thing and many."""
    found: list[tuple[tuple[int, int], Text]] = []
    for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) in TAKES:
            given = node.args[: TAKES[ast.unparse(node.func)]]
            texts = [a.value for a in given if isinstance(a, ast.Constant) and a.value]
            if texts and len(texts) == len(given):
                place = (node.lineno, node.col_offset)
                found.append((place, texts[0] if len(texts) == 1 else (texts[0], texts[1])))
    return [text for _, text in sorted(found, key=lambda one: one[0])]


def room_of(source: Path) -> str:
    """The room that a module's texts belong to: its package, "launch", or "host"."""
    parts = source.relative_to(EXTENSION).parts
    if parts == ("launch.py",):
        return "launch"
    return parts[1].removesuffix(".py") if parts[0] == "underlit" else "host"


def rooms() -> dict[str, Catalog]:
    """Every text by its room, with the files that it stands in."""
    made: dict[str, Catalog] = {}

    def add(room: str, text: Text, file: str) -> None:
        if room not in made:
            made[room] = Catalog(project="Underlit", domain=DOMAIN, fuzzy=False)
        made[room].add(text, locations=[(file, 0)])

    for dialog in sorted(EXTENSION.glob("*.inx")):
        for text in texts_of(dialog):
            add("dialogs", text, dialog.name)
    for source in sorted(EXTENSION.rglob("*.py")):
        for said in said_in(source):
            add(room_of(source), said, source.relative_to(EXTENSION).as_posix())
    return made


def languages() -> list[str]:
    """The languages that there are."""
    return sorted(path.name for path in LOCALE.iterdir() if path.is_dir())


def po_file(language: str, room: str) -> Path:
    """Where a language's texts of one room are translated."""
    return LOCALE / language / f"{room}.po"


def empty(language: str) -> Catalog:
    """A catalog of this language without a text."""
    return Catalog(
        locale=language,
        domain=DOMAIN,
        header_comment="# Texts of Underlit. Licence: as Underlit itself.",
        project="Underlit",
        last_translator="the Underlit project",
        language_team=language,
        msgid_bugs_address="see README",
        creation_date=UNDATED,
        fuzzy=False,
    )


def translated(language: str, room: str) -> Catalog:
    """A room's catalog as it stands in its file; without a file, an empty one."""
    path = po_file(language, room)
    if path.exists():
        with path.open("rb") as file:
            catalog = read_po(file, locale=language, domain=DOMAIN)
    else:
        catalog = empty(language)
    catalog.creation_date = UNDATED
    return catalog


def whole(language: str) -> Catalog:
    """All rooms of a language in one catalog."""
    catalog = empty(language)
    for path in sorted((LOCALE / language).glob("*.po")):
        for message in translated(language, path.stem):
            if message.id and message.string:
                catalog.add(message.id, message.string)
    return catalog


def as_po(catalog: Catalog) -> bytes:
    """The catalog as text, without dates, so that only translating changes it."""
    buffer = io.BytesIO()
    write_po(buffer, catalog, omit_header=False, include_lineno=False, width=98)
    lines = buffer.getvalue().split(b"\n")
    dates = (b'"POT-', b'"PO-Rev', b'"Gen')
    return b"\n".join(line for line in lines if not line.startswith(dates))


def as_mo(catalog: Catalog) -> bytes:
    """The catalog as it is read."""
    buffer = io.BytesIO()
    write_mo(buffer, catalog)
    return buffer.getvalue()


def compiled(language: str) -> Path:
    """Where the host and gettext look for a language."""
    return LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.mo"


def write(language: str) -> None:
    """Bring every file of one language up to date."""
    wanted = rooms()
    for path in (LOCALE / language).glob("*.po"):
        if path.stem not in wanted:
            path.unlink()
    for room, template in wanted.items():
        catalog = translated(language, room)
        catalog.update(template, no_fuzzy_matching=True)
        catalog.obsolete.clear()
        po_file(language, room).write_bytes(as_po(catalog))
    target = compiled(language)
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(as_mo(whole(language)))


def main() -> None:
    """Write every file anew."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--new", metavar="LANGUAGE", help="begin this language, for example fr")
    new = parser.parse_args().new
    if new:
        (LOCALE / new).mkdir(exist_ok=True)
    for language in languages():
        write(language)


if __name__ == "__main__":
    main()
