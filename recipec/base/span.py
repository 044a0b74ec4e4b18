"""A stretch of a source."""

from __future__ import annotations

from typing import NamedTuple

from recipec.base.source import Position, Source


class Span(NamedTuple):
    """Characters `start` (included) to `end` (excluded) of `source`.

    A named tuple, since a book holds hundreds of thousands and these are the cheapest frozen values Python has.
    """

    source: Source
    start: int
    end: int

    @property
    def text(self) -> str:
        """The characters covered."""
        return self.source.text[self.start : self.end]

    @property
    def position(self) -> Position:
        """Where it starts, for people."""
        return self.source.position(self.start)

    @property
    def end_position(self) -> Position:
        """Where it ends (the character after the last), for people."""
        return self.source.position(self.end)

    def to(self, other: Span) -> Span:
        """From the start of this to the end of `other`, in one source."""
        return Span(self.source, min(self.start, other.start), max(self.end, other.end))
