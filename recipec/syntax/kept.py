"""Marks that were met before. A book says `{oven}` and `[… g butter]` over and over, and a mark's node depends on its text alone.

A text that comes again and again is kept with an expression that makes its node anew, at another offset of another source. A mark
whose only number stands first (`[200 g butter, cubed]`) is kept for any number in its place, once three of them, read in full,
have shown that nothing else changes. What gave a finding is never kept. A test holds the nodes equal to freshly read ones.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, NamedTuple

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax.builder import new

Maker = Callable[[Source, int], Any]
"""Makes the node for a source and the offset at which its text begins there."""
NumberedMaker = Callable[[Source, int, int, int], Any]
"""The same for a number, and for how many digits it has."""

# A bracket, a whole number, a space, then a letter or a degree sign, and no other number: `2 x 20 cm` is read by rules of its own.
_NUMBERED = re.compile(r"([\[{<])([1-9][0-9]{0,3}) ((?!x\s)[^\W0-9_][^0-9¼-¾⅐-⅞×]*|[°º][^0-9¼-¾⅐-⅞×]*)")
_OFTEN = 4
"""Times a text is met before it is worth an expression."""
_MOST = 8192
"""Texts that are counted, and those that are kept: a bound for a process that reads for days."""
_LONGEST = 200
"""Characters. What is longer hardly comes again."""


class _Sample(NamedTuple):
    """A mark with a number, read in full."""

    number: int
    node: Any
    start: int


class Kept:
    """Nodes by the text they come from."""

    __slots__ = ("_makers", "_met", "_numbered", "_samples")

    def __init__(self) -> None:
        self._makers: dict[str, Maker] = {}
        self._met: dict[str, int] = {}
        # By the text without its number; None where the number changes more than itself.
        self._numbered: dict[str, NumberedMaker | None] = {}
        self._samples: dict[str, list[_Sample]] = {}

    def make(self, text: str, source: Source, start: int) -> Any:
        """The node of this text where it begins at `start` of `source`; None when the text is not kept."""
        maker = self._makers.get(text)
        if maker is not None:
            return maker(source, start)
        found = _NUMBERED.fullmatch(text)
        if found is not None:
            bracket, digits, rest = found.groups()
            numbered = self._numbered.get(bracket + rest)
            if numbered is not None:
                return numbered(source, start, int(digits), len(digits))
        return None

    def met(self, text: str, node: Any, start: int) -> None:
        """Count a text that was read at `start` without a finding; keep it once it has been met often enough."""
        if len(text) > _LONGEST:
            return
        found = _NUMBERED.fullmatch(text)
        if found is not None and self._met_number(found[1] + found[3], _Sample(int(found[2]), node, start)):
            return
        times = self._met.get(text, 0) + 1
        if times < _OFTEN:
            if times > 1 or len(self._met) < _MOST:
                self._met[text] = times
        elif len(self._makers) < _MOST:
            self._met[text] = -_MOST
            with contextlib.suppress(_Unlike):
                self._makers[text] = maker(node, start)

    def _met_number(self, key: str, sample: _Sample) -> bool:
        """Whether the text is one that may be kept for any number."""
        if key in self._numbered:
            return False
        samples = self._samples.setdefault(key, [])
        if all(sample.number != other.number for other in samples):
            samples.append(sample)
        if len(samples) == 3:
            del self._samples[key]
            if len(self._numbered) < _MOST:
                self._numbered[key] = numbered_maker(*samples)
        elif len(self._samples) > _MOST // 4:
            # Samples hold on to whole texts: rather begin again than keep them all.
            self._samples.clear()
        return True


# ---------------------------------------------------------------- expressions


def maker(node: Any, start: int) -> Maker:
    """An expression that makes `node` anew, spans moved from `start` to any other offset. _Unlike when it can't be written."""
    writer = _Writer(lambda offset: f"o+{offset - start}")
    # The expression holds offsets and names of constants, nothing of any text.
    made: Maker = eval(f"lambda s,o: {writer.node(node, node, 0)}", writer.names)
    return made


def numbered_maker(one: _Sample, two: _Sample, three: _Sample) -> NumberedMaker | None:
    """As `maker`, for any number in the place of the first two's; None unless it foretells the third to the letter."""
    after = one.start + 1 + len(str(one.number))

    def place(offset: int) -> str:
        if offset <= one.start + 1:
            return f"o+{offset - one.start}"
        if offset < after:
            raise _Unlike
        return f"o+d+{offset - one.start - len(str(one.number))}"

    writer = _Writer(place, one.number, two.number)
    try:
        expression = writer.node(one.node, two.node, 0)
    except _Unlike:
        return None
    made: NumberedMaker = eval(f"lambda s,o,n,d: {expression}", writer.names)
    foretold = made(three.node.span.source, three.start, three.number, len(str(three.number)))
    return made if foretold == three.node else None


class _Unlike(Exception):
    """Two marks differ in more than their number, or hold what no expression can be written for."""


@lru_cache(maxsize=20_000)
def _whole(number: int) -> Fraction:
    return Fraction(number)


_PLAIN = frozenset({str, int, bool, Fraction, type(None)})


class _Writer:
    """Writes the expression of a node, compared leaf by leaf with another of the same shape."""

    def __init__(self, place: Callable[[int], str], first: int = 1, second: int = 1) -> None:
        self._place = place
        self._first = first
        self._second = second
        self.names: dict[str, Any] = {"new": new, "Span": Span, "whole": _whole}

    def node(self, one: Any, two: Any, depth: int) -> str:
        """The expression for both."""
        if type(one) is not type(two) or depth > 30:
            raise _Unlike
        if type(one) is Span:
            return f"new(Span,(s,{self._place(one.start)},{self._place(one.end)}))"
        if isinstance(one, tuple):
            if len(one) != len(two):
                raise _Unlike
            parts = [self.node(part, other, depth + 1) for part, other in zip(one, two, strict=True)]
            inner = "".join(f"{part}," for part in parts)
            return f"({inner})" if type(one) is tuple else f"new({self._constant(type(one))},({inner}))"
        if type(one) not in _PLAIN:
            # Something that might hold a span, or change.
            raise _Unlike
        if one == two:
            return self._constant(one)
        if type(one) in (int, Fraction) and one * self._second == two * self._first:
            times = Fraction(one) / self._first
            if times.denominator == 1:
                count = "n" if times == 1 else f"n*{times.numerator}"
                return count if type(one) is int else f"whole({count})"
        raise _Unlike

    def _constant(self, value: Any) -> str:
        if value is None or isinstance(value, bool):
            return repr(value)
        name = f"k{len(self.names)}"
        self.names[name] = value
        return name


@cache
def kept(language: str, event: bool) -> Kept:
    """The texts met so far in this language; a mark of an event may mean what one of a dish does not."""
    return Kept()
