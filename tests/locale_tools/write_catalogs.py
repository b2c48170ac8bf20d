"""Catalogs of translations: what is to be translated, and what the host reads.

    python tests/locale_tools/write_catalogs.py

Collects every text of the dialogs into `extension/locale/underlit.pot`, brings the `.po` file of
each language up to date (new texts empty, texts that are gone left out) and compiles it to the
`.mo` that the host finds. Translating is done in the `.po` files, by any editor for them.
"""

from __future__ import annotations

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


def texts_of(dialog: Path) -> list[str]:
    """Texts of one dialog in the order of the file."""
    found = []
    for element in etree.parse(str(dialog)).iter(f"{INX}*"):
        found += [element.get(name, "") for name in ATTRIBUTES]
        if element.tag in TEXTS:
            found.append(" ".join((element.text or "").split()))
    return [text for text in found if text]


def template() -> Catalog:
    """Every text with the files that it stands in."""
    catalog = Catalog(project="Underlit", domain=DOMAIN, fuzzy=False)
    for dialog in sorted(EXTENSION.glob("*.inx")):
        for text in texts_of(dialog):
            catalog.add(text, locations=[(dialog.name, 0)])
    return catalog


def languages() -> list[str]:
    """The languages that there are."""
    return sorted(path.stem for path in LOCALE.glob("*.po"))


def translated(language: str) -> Catalog:
    """A language's catalog as it stands in its file."""
    with (LOCALE / f"{language}.po").open("rb") as file:
        catalog = read_po(file, locale=language, domain=DOMAIN)
    catalog.creation_date = UNDATED
    return catalog


def as_po(catalog: Catalog) -> bytes:
    """The catalog as text, without dates, so that only translating changes it."""
    buffer = io.BytesIO()
    write_po(buffer, catalog, omit_header=False, include_lineno=False, width=98)
    lines = buffer.getvalue().split(b"\n")
    dates = (b'"POT-', b'"PO-Rev', b'"Gen')
    return b"\n".join(line for line in lines if not line.startswith(dates))


def as_mo(catalog: Catalog) -> bytes:
    """The catalog as the host reads it."""
    buffer = io.BytesIO()
    write_mo(buffer, catalog)
    return buffer.getvalue()


def compiled(language: str) -> Path:
    """Where the host looks for a language."""
    return LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.mo"


def main() -> None:
    """Write every file anew."""
    wanted = template()
    (LOCALE / f"{DOMAIN}.pot").write_bytes(as_po(wanted))
    for language in languages():
        catalog = translated(language)
        catalog.update(wanted, no_fuzzy_matching=True)
        catalog.obsolete.clear()
        (LOCALE / f"{language}.po").write_bytes(as_po(catalog))
        target = compiled(language)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(as_mo(translated(language)))


if __name__ == "__main__":
    main()
