"""Marks that were met before. A book says `{oven}` and `<10 min>` over and over, and a mark's node depends on its text alone.

So the text of a mark that comes again and again is kept with an expression that makes its node anew, at another offset of another
source. What gave a finding is never kept. A test holds the nodes equal to freshly parsed ones.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax.builder import new

Maker = Callable[[Source, int], Any]
"""Makes the node for a source and the offset at which its text begins there."""

_OFTEN = 4
"""Times a text is met before it is worth an expression."""
_MOST = 16_384
"""Texts that are counted, and so the most that are kept: a bound for a process that reads for days."""
_LONGEST = 200
"""Characters. What is longer hardly comes again."""


class Kept:
    """Nodes by the text they come from."""

    __slots__ = ("_makers", "_met")

    def __init__(self) -> None:
        self._makers: dict[str, Maker] = {}
        self._met: dict[str, int] = {}

    def get(self, text: str) -> Maker | None:
        """How to make the node of this text, when it is kept."""
        return self._makers.get(text)

    def met(self, text: str, node: object, start: int) -> None:
        """Count a text that was read at `start` without a finding; keep it once it has been met often enough."""
        times = self._met.get(text, 0) + 1
        if times < _OFTEN:
            if times > 1 or (len(self._met) < _MOST and len(text) <= _LONGEST):
                self._met[text] = times
        else:
            self._makers[text] = maker(node, start)


def maker(node: object, start: int) -> Maker:
    """An expression that makes `node` anew, spans moved from `start` to any other offset."""
    names: dict[str, Any] = {"new": new, "Span": Span}

    def constant(value: object) -> str:
        name = f"k{len(names)}"
        names[name] = value
        return name

    def expression(value: Any) -> str:
        if type(value) is Span:
            return f"new(Span,(s,o+{value.start - start},o+{value.end - start}))"
        if not isinstance(value, tuple) or not _holds_span(value):
            return constant(value)
        parts = "".join(f"{expression(part)}," for part in value)
        return f"({parts})" if type(value) is tuple else f"new({constant(type(value))},({parts}))"

    # The expression holds offsets and the names given above, nothing of any text.
    made: Maker = eval(f"lambda s,o: {expression(node)}", names)
    return made


def _holds_span(value: tuple[Any, ...]) -> bool:
    return any(type(part) is Span or (isinstance(part, tuple) and _holds_span(part)) for part in value)


@cache
def kept(language: str, event: bool) -> Kept:
    """The texts met so far in this language; a mark of an event may mean what one of a dish does not."""
    return Kept()
