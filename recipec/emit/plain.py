"""Plain text for a terminal or a till roll: wrapped by columns, and safe to print whatever a cook pasted."""

from __future__ import annotations

import unicodedata

from recipec.measure.numerals import NO_BREAK

WIDTH = 80
_JOINERS = frozenset("\u200c\u200d")


def safe(text: str) -> str:
    """One line: controls, direction marks and half characters become U+FFFD, white space a space. A no-break space is kept."""
    return "".join(_glyph(char) for char in text)


def _glyph(char: str) -> str:
    if char in "\t\n\r\x0b\x0c":
        return " "
    category = unicodedata.category(char)
    if category in ("Cc", "Cs", "Zl", "Zp") or (category == "Cf" and char not in _JOINERS):
        return "\ufffd"
    return char


def capital(text: str) -> str:
    """With a capital first letter, the rest as it is."""
    return text[:1].upper() + text[1:]


def columns(text: str) -> int:
    """Columns on a terminal: wide letters take two, marks that join take none."""
    return sum(_width(char) for char in text)


def _width(char: str) -> int:
    if unicodedata.category(char) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def wrap(text: str, first: str = "", rest: str | None = None, width: int = WIDTH) -> list[str]:
    """Lines of at most `width` columns where words allow; `first` begins the first line, `rest` the others (else as many spaces).

    No line ends in a number whose unit begins the next: no-break spaces hold, and are printed as plain ones.
    """
    rest = " " * columns(first) if rest is None else rest
    lines: list[str] = []
    line, empty = first, True
    for word in safe(text).split(" "):
        if not word:
            continue
        if not empty and columns(line) + 1 + columns(word) > width:
            lines.append(line)
            line, empty = rest, True
        line = f"{line}{word}" if empty else f"{line} {word}"
        empty = False
    lines.append(line)
    return [line.replace(NO_BREAK, " ").rstrip() for line in lines]


def title_line(left: str, right: str = "", first: str = "", width: int = WIDTH) -> list[str]:
    """`left` after `first`, and `right` at the end of the line where both fit, else under it."""
    words = wrap(left, first, width=width)
    gap = width - columns(words[-1]) - columns(safe(right))
    if right and gap >= 2:
        return [*words[:-1], f"{words[-1]}{' ' * gap}{safe(right)}".replace(NO_BREAK, " ")]
    return words + (wrap(right, " " * columns(first), width=width) if right else [])


def rule(sign: str = "─", width: int = WIDTH) -> str:
    """A rule across the page."""
    return sign * width


def page(lines: list[str]) -> str:
    """Lines as a text; no blanks at line ends, one line end at the end."""
    return "\n".join(line.rstrip() for line in lines).strip("\n") + "\n"
