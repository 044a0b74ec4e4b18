"""How wide text stands on a terminal, and how to make any text safe to print there."""

from __future__ import annotations

import unicodedata
from typing import NamedTuple

TAB = 4
"""Columns between tab stops in a shown line; the tab is printed as spaces, so a terminal's own stops don't matter."""

_KEPT_FORMAT = frozenset("\u200c\u200d")  # joiners: letters of some scripts and joined emoji need them


class Cell(NamedTuple):
    """One character as it is printed, and the columns it takes (0 when it joins the one before)."""

    glyph: str
    width: int


def cell(char: str) -> Cell:
    """What is printed for one character other than a tab.

    Controls become their Unicode pictures and direction marks U+FFFD: what a cook pastes must not steer a terminal.
    """
    code = ord(char)
    if 0x20 <= code < 0x7F:
        return Cell(char, 1)
    if code < 0x20:
        return Cell(chr(0x2400 + code), 1)
    if code == 0x7F:
        return Cell("\u2421", 1)
    category = unicodedata.category(char)
    if category in ("Cc", "Cs", "Zl", "Zp") or (category == "Cf" and char not in _KEPT_FORMAT):
        return Cell("\ufffd", 1)
    # Medial and final Hangul letters join the letter before them though they are no combining marks.
    if category in ("Mn", "Me", "Cf") or 0x1160 <= code <= 0x11FF:
        return Cell(char, 0)
    return Cell(char, 2 if unicodedata.east_asian_width(char) in "WF" else 1)


def cells(line: str) -> list[Cell]:
    """A line without line ends, one cell a character, tabs widened to the next stop."""
    found: list[Cell] = []
    column = 0
    for char in line:
        if char == "\t":
            width = TAB - column % TAB
            found.append(Cell(" " * width, width))
        else:
            found.append(cell(char))
        column += found[-1].width
    return found


def width(text: str) -> int:
    """Columns that `shown(text)` takes."""
    return sum(one.width for one in cells(text))


def shown(text: str) -> str:
    """Text safe to print on one line: line ends and other controls made visible, tabs widened."""
    return "".join(one.glyph for one in cells(text))


def cut(text: str, columns: int) -> str:
    """`shown(text)`, ending in `…` where it would be wider than `columns`."""
    # No character is narrower than nothing, so what lies far beyond is not even looked at.
    row = cells(text[: 4 * columns])
    if len(text) <= 4 * columns and sum(one.width for one in row) <= columns:
        return "".join(one.glyph for one in row)
    used = 0
    kept: list[str] = []
    for one in row:
        if used + one.width > columns - 1:
            break
        used += one.width
        kept.append(one.glyph)
    return "".join(kept) + "…"


def wrap(text: str, columns: int) -> list[str]:
    """Break at spaces so that no line is wider than `columns`; a word too long for any line is cut short."""
    lines: list[str] = []
    line = ""
    used = 0
    for word in text.split():
        safe = cut(word, columns)
        wide = width(safe)
        if line and used + 1 + wide > columns:
            lines.append(line)
            line, used = "", 0
        line = f"{line} {safe}" if line else safe
        used += wide + (1 if used else 0)
    if line:
        lines.append(line)
    return lines
