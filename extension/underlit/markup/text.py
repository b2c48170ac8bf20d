"""Lines of text whose room is known without asking any font.

The file says "sans-serif", so the font differs between machines. Widths here are those of
DejaVu Sans, the widest of the usual ones (Arial and Helvetica are about 10 % narrower), rounded
up; characters outside the table take the widest of their script. So no line runs over.
"""

from __future__ import annotations

#: Advance widths of the characters from space to tilde, 1/100 em, rounded up.
# fmt: off
_REGULAR = (
    32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64,
    64, 64, 34, 34, 84, 84, 84, 54, 100, 69, 69, 70, 78, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75,
    79, 61, 79, 70, 64, 62, 74, 69, 99, 69, 62, 69, 40, 34, 40, 84, 50, 50, 62, 64, 55, 64, 62, 36,
    64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84,
)
_BOLD = (
    35, 46, 53, 84, 70, 101, 88, 31, 46, 46, 53, 84, 38, 42, 38, 37, 70, 70, 70, 70, 70, 70, 70, 70,
    70, 70, 40, 40, 84, 84, 84, 59, 100, 78, 77, 74, 84, 69, 69, 83, 84, 38, 38, 78, 64, 100, 84,
    86, 74, 86, 78, 73, 69, 82, 78, 111, 78, 73, 73, 46, 37, 46, 84, 50, 50, 68, 72, 60, 72, 68, 44,
    72, 72, 35, 35, 67, 35, 105, 72, 69, 72, 72, 50, 60, 48, 72, 66, 93, 65, 66, 59, 72, 37, 72, 84,
)
# fmt: on

_WIDE_LETTERS = frozenset("ŒœŴŵÆæĦŉ©®¼½¾")

#: (first code point above the range, widest character in it in em): the first that fits counts.
_RANGES = (
    (0xC0, 0.75),
    (0x180, 0.9),
    (0x250, 1.56),
    (0x370, 1.0),
    (0x400, 1.1),
    (0x530, 1.41),
    (0x2E80, 1.9),
    (0xFB00, 1.1),
)
_WIDEST = 1.9

#: Words that stay on the line of the figure before them.
_UNITS = frozenset({"mm", "mm2", "mA", "V", "of"})


class _Widths(dict[str, float]):
    """Character -> em; other scripts are filled in when they come up."""

    def __missing__(self, char: str) -> float:
        code = ord(char)
        width = next((em for end, em in _RANGES if code < end), _WIDEST)
        self[char] = 1.2 if char in _WIDE_LETTERS else width
        return self[char]


_TABLES = tuple(
    _Widths((chr(32 + i), width / 100.0) for i, width in enumerate(table))
    for table in (_REGULAR, _BOLD)
)


def clean(text: str) -> str:
    """Text that any XML file and any font can take: one line, nothing invisible in it."""
    if not text.isprintable():
        kept = (c if c.isprintable() else " " if c.isspace() else "" for c in text)
        text = "".join(kept)
    return " ".join(text.split())


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Room in mm that a line of this font size (mm) takes at most."""
    return sum(map(_TABLES[bold].__getitem__, text)) * size


def wrap(text: str, size: float, bold: bool, room: float) -> list[str]:
    """Lines of at most `room` mm. No word is dropped; a word that is too long is cut."""
    lines: list[str] = []
    line, used = "", 0.0
    space = text_width(" ", size, bold)
    for word in _words(clean(text)):
        need = text_width(word, size, bold)
        if line and used + space + need <= room:
            line, used = f"{line} {word}", used + space + need
            continue
        if line:
            lines.append(line)
        *full, line = [word] if need <= room else _cut(word, size, bold, room)
        lines += full
        used = text_width(line, size, bold)
    return [*lines, line] if line else lines


def _words(text: str) -> list[str]:
    """Words; "1.3 mm" is one."""
    words: list[str] = []
    for word in text.split():
        if words and word.rstrip(".,;:)") in _UNITS and words[-1][-1].isdigit():
            words[-1] = f"{words[-1]} {word}"
        else:
            words.append(word)
    return words


def _cut(word: str, size: float, bold: bool, room: float) -> list[str]:
    """Pieces of a word that is wider than `room` (at least one character each)."""
    pieces = [""]
    used = 0.0
    for char in word:
        need = text_width(char, size, bold)
        if pieces[-1] and used + need > room:
            pieces.append("")
            used = 0.0
        pieces[-1] += char
        used += need
    return pieces
