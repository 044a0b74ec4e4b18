"""A table that a spreadsheet or a person wrote, as rows of cells that know where they stand.

Cells are parted by commas, semicolons or tabs, whichever makes most of the first row; a cell may stand in quotes. A cell
never runs over the end of its line: a quote left open must not swallow the rows below.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from recipec.base.source import Source
from recipec.base.span import Span

SEPARATORS = (",", ";", "\t")
_LINE = re.compile(r"[^\r\n]+")


class Row(NamedTuple):
    """One row: its cells without quotes and white space around, and where each stands in the file, quotes included.

    `open_quote` is where a quote begins that is not closed in its line, None when all are.
    """

    cells: tuple[str, ...]
    spans: tuple[Span, ...]
    open_quote: Span | None

    @property
    def span(self) -> Span:
        """From its first cell to its last."""
        return self.spans[0].to(self.spans[-1])


def rows_of(source: Source, columns: Iterable[str]) -> tuple[str, Iterator[Row]]:
    """What parts the cells, and the rows that hold anything, the first row with them. `columns` are the names it may have."""
    separator = _separator(source.text, frozenset(columns))
    return separator, _rows(source, separator)


def _separator(text: str, columns: frozenset[str]) -> str:
    for line in _LINE.finditer(text):
        known = {sign: sum(cell.lower() in columns for cell in _cells(line[0], sign)) for sign in SEPARATORS}
        if any(known.values()) or line[0].strip("\ufeff ,;\t"):
            return max(SEPARATORS, key=lambda sign: (known[sign], line[0].count(sign)))
    return ","


def _rows(source: Source, separator: str) -> Iterator[Row]:
    for line in _LINE.finditer(source.text):
        cells = _cells(line[0], separator)
        if any(cells):
            spans, open_quote = _spans(source, line.start(), line.end(), separator, len(cells))
            yield Row(cells, spans, open_quote)


def _cells(line: str, separator: str) -> tuple[str, ...]:
    try:
        row = next(csv.reader([line], delimiter=separator, skipinitialspace=True), [])
    except csv.Error:
        # Longer than any cell can be: one cell that nobody can read.
        return (line[:80],)
    # A byte order mark in the middle of the chain of programs becomes the first letter of the first cell.
    return tuple(cell.strip().strip("\ufeff").strip() for cell in row)


@cache
def _pattern(separator: str) -> re.Pattern[str]:
    return re.compile(rf'(?P<quoted> *"(?:[^"]|"")*"[^{separator}]*)|[^{separator}]*')


def _spans(source: Source, start: int, end: int, separator: str, count: int) -> tuple[tuple[Span, ...], Span | None]:
    spans: list[Span] = []
    open_quote = None
    pattern = _pattern(separator)
    while start <= end:
        match = pattern.match(source.text, start, end)
        assert match is not None, "the pattern matches the empty text"
        text = match[0]
        first = start + len(text) - len(text.lstrip())
        spans.append(Span(source, first, max(first, start + len(text.rstrip()))))
        if match["quoted"] is None and text.lstrip(" \ufeff").startswith('"') and open_quote is None:
            open_quote = spans[-1]
        start = match.end() + 1
    if len(spans) != count:
        # The whole row is a place that is always true.
        return (Span(source, spans[0].start, spans[-1].end),) * count, open_quote
    return tuple(spans), open_quote
