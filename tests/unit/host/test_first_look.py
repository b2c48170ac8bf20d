"""The first look at the bytes: each kind of bad file gets its own sentence."""

from __future__ import annotations

import gzip
import re
import time
from xml.parsers import expat

import pytest

from kit.german import english_in
from underlit.errors import UnreadableDrawing
from underlit_host import first_look
from underlit_host.first_look import check_bytes

OPEN = '<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm">'
WHOLE = f"{OPEN}<rect/></svg>"


def doctype(subset: str, content: str = "") -> bytes:
    return f"<!DOCTYPE svg [{subset}]>{OPEN}{content}</svg>".encode()


REFUSED = [
    ("empty", b" \n ", "in it. Take an older copy"),
    ("words", b"hello", "save it there as Inkscape SVG"),
    ("zeros", b"\0\1\2\3", "no SVG drawing"),
    ("prolog only", b"<?xml version='1.0'?>", "no SVG drawing"),
    ("svgz", gzip.compress(WHOLE.encode()), "compressed"),
    ("pdf", b"%PDF-1.7", "PDF"),
    ("png", b"\x89PNG\r\n", "picture"),
    ("zip", b"PK\x03\x04", "ZIP"),
    ("web page", b"<html><body/></html>", "<html>. Choose the SVG file"),
    ("svg of no namespace", b"<svg/>", "it is SVG (its xmlns is missing). Open it"),
    ("cut between tags", f"{OPEN}<g>".encode(), "cut off"),
    ("cut in a tag", f"{OPEN}<path d='M 0 0".encode(), "cut off"),
    ("cut in the last tag", WHOLE[:-3].encode(), "cut off"),
    ("cut in a letter", f"{OPEN}<text>ä".encode()[:-1], "cut off"),
    ("wrong nesting", f"{OPEN}<g></a></svg>".encode(), "damaged at line 1"),
    ("unbound prefix", f"{OPEN}<x:y/></svg>".encode(), "damaged"),
    ("undefined entity", f"{OPEN}&nbsp;</svg>".encode(), "damaged"),
    ("junk behind", f"{WHOLE}x".encode(), "damaged"),
    ("latin-1 as utf-8", f"{OPEN}<text>ä</text></svg>".encode("latin-1"), "encoding"),
    ("unknown encoding", f"<?xml version='1.0' encoding='k9'?>{WHOLE}".encode(), "encoding"),
    ("not utf-16", f"<?xml version='1.0' encoding='UTF-16'?>{WHOLE}".encode(), "encoding"),
    ("parameter entity", doctype("<!ENTITY % p 'x'>"), "elsewhere"),
    ("external parameter", doctype("<!ENTITY % p SYSTEM 'file:///x'> %p;"), "elsewhere"),
    ("undeclared parameter", doctype("%p;<!ENTITY a 'x'><!ENTITY b '&a;'>", "&b;"), "elsewhere"),
    ("external entity", doctype("<!ENTITY e SYSTEM 'file:///x'>", "&e;"), "elsewhere"),
    ("public entity", doctype("<!ENTITY e PUBLIC 'p' 'http://x.invalid/e'>", "&e;"), "elsewhere"),
    ("nested", doctype("<!ENTITY a 'x'><!ENTITY b '&a;&a;'>", "&b;"), "build on each other"),
    ("hidden nesting", doctype("<!ENTITY a 'x'><!ENTITY b '&#38;a;'>", "&b;"), "each other"),
    ("elements", doctype("<!ENTITY a '<g/>'>", "&a;"), "each other"),
    ("long", doctype(f"<!ENTITY a '{'x' * 5000}'>", "&a;"), "too large"),
    ("often", doctype(f"<!ENTITY a '{'x' * 4000}'>", "&a;" * 1000), "too large"),
    ("deep", f"{OPEN}{'<g>' * 100_000}{'</g>' * 100_000}</svg>".encode(), "500 deep"),
    ("long path", f"{OPEN}<path id='p' d='M{' 1 1' * 1_300_000}'/></svg>".encode(), "path p is"),
    ("long polygon", f"{OPEN}<polygon points='{'1 1 ' * 1_300_000}'/></svg>".encode(), "One path"),
    ("large", WHOLE.encode() + b" " * 40_000_000, "40 MB"),
]


@pytest.mark.parametrize(("data", "words"), [c[1:] for c in REFUSED], ids=[c[0] for c in REFUSED])
def test_refused(data: bytes, words: str) -> None:
    with pytest.raises(UnreadableDrawing) as fault:
        check_bytes(data)
    sentence = str(fault.value)
    assert words in sentence
    assert "\n" not in sentence
    assert len(sentence) < 260


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize("data", [c[1] for c in REFUSED], ids=[c[0] for c in REFUSED])
def test_refused_in_german(data: bytes) -> None:
    with pytest.raises(UnreadableDrawing) as fault:
        check_bytes(data)
    assert english_in(str(fault.value)) == []
    assert re.search(r"Datei|Zeichnung|Pfad", str(fault.value))


def test_damage_is_called_as_expat_calls_it() -> None:
    assert set(first_look._DAMAGE) <= set(expat.errors.messages.values())


ACCEPTED = [
    ("plain", WHOLE.encode()),
    ("byte order mark", b"\xef\xbb\xbf" + WHOLE.encode()),
    ("utf-16", WHOLE.encode("utf-16")),
    ("latin-1", f"<?xml version='1.0' encoding='iso-8859-1'?>{WHOLE}<!--ä-->".encode("latin-1")),
    ("windows", f"<?xml version='1.0' encoding='cp1252'?>{WHOLE}<!--€-->".encode("cp1252")),
    ("prefix", b'<s:svg xmlns:s="http://www.w3.org/2000/svg"/>'),
    (
        "public doctype",
        b"<!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' "
        b"'http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd'>" + WHOLE.encode(),
    ),
    (
        "small entities",
        b"<!DOCTYPE svg [<!ENTITY ns 'http://www.w3.org/2000/svg'><!ENTITY t 'R&amp;D'>]>"
        b"<svg xmlns='&ns;'><text>&t;</text></svg>",
    ),
    ("500 deep", f"{OPEN}{'<g>' * 499}{'</g>' * 499}</svg>".encode()),
]


@pytest.mark.parametrize("data", [c[1] for c in ACCEPTED], ids=[c[0] for c in ACCEPTED])
def test_accepted(data: bytes) -> None:
    check_bytes(data)


def test_too_many_elements(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(first_look, "MOST_ELEMENTS", 10)
    check_bytes(f"{OPEN}{'<g/>' * 9}</svg>".encode())
    with pytest.raises(UnreadableDrawing, match="more than 10 objects"):
        check_bytes(f"{OPEN}{'<g/>' * 10}</svg>".encode())


def test_siblings_are_not_depth() -> None:
    check_bytes(f"{OPEN}{'<g><g/></g>' * 1000}</svg>".encode())


def test_quick() -> None:
    one = '<path style="fill:none;stroke:#000;stroke-width:5" d="M 10 20 L 30 40"/>'
    data = f"{OPEN}{one * 14_000}</svg>".encode()
    assert len(data) > 1_000_000
    start = time.process_time()
    check_bytes(data)
    assert time.process_time() - start < 0.2  # 0.011 s on a quiet machine
