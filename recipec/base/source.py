"""A text with its name, and the one place that turns an offset into a line and a column."""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import NamedTuple

_LINE_END = re.compile(r"\r\n|\r|\n")


class Position(NamedTuple):
    """A place for people: line and column from 1, the column in characters."""

    line: int
    column: int


class Source:
    """One file's text as it was read. Offsets everywhere are characters into `text`.

    `name` is the path shown to people: relative to the book, with forward slashes.
    CRLF and lone CR count as one line end; nothing is normalised, so offsets hold in the file on disk.
    """

    __slots__ = ("_starts", "name", "text")

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.text = text
        self._starts: list[int] | None = None

    def __repr__(self) -> str:
        return f"Source({self.name!r}, {len(self.text)} characters)"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Source) and self.name == other.name and self.text == other.text

    def __hash__(self) -> int:
        return hash(self.name)

    def __reduce__(self) -> tuple[type[Source], tuple[str, str]]:
        return (Source, (self.name, self.text))

    def _line_starts(self) -> list[int]:
        if self._starts is None:
            self._starts = [0, *(match.end() for match in _LINE_END.finditer(self.text))]
        return self._starts

    def position(self, offset: int) -> Position:
        """Line and column of a character offset; offsets outside the text are brought to its ends."""
        offset = max(0, min(offset, len(self.text)))
        starts = self._line_starts()
        line = bisect_right(starts, offset)
        return Position(line, offset - starts[line - 1] + 1)

    def offset(self, line: int, column: int) -> int:
        """The character offset of a line and column, both from 1; places outside the text are brought to its ends."""
        starts = self._line_starts()
        if line > len(starts):
            return len(self.text)
        return max(0, min(starts[max(line, 1) - 1] + column - 1, len(self.text)))

    def line_text(self, line: int) -> str:
        """The text of a line, counted from 1, without its line end; '' past the end."""
        starts = self._line_starts()
        if not 1 <= line <= len(starts):
            return ""
        start = starts[line - 1]
        end = starts[line] if line < len(starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")


class Decoded(NamedTuple):
    """A file's bytes as a source. `bad_byte` is the offset of the first byte that is no UTF-8, None when all is well."""

    source: Source
    bad_byte: int | None


def decode(name: str, data: bytes) -> Decoded:
    """UTF-8 to a source; a byte order mark is dropped. What is no UTF-8 becomes U+FFFD, so the rest can still be read."""
    try:
        return Decoded(Source(name, data.decode("utf-8-sig")), None)
    except UnicodeDecodeError as problem:
        # The codec counts from behind the byte order mark; people count from the start of the file.
        start = problem.start + len(data) - len(problem.object)
        return Decoded(Source(name, data.decode("utf-8-sig", "replace")), start)
