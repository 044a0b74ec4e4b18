"""Which brackets belong together: one pass over a block, before any mark is read.

Linear in the text: every bracket is pushed and popped at most once, and a reading is matched up to its next bracket only.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import accumulate
from typing import Literal, NamedTuple

from recipec.syntax.builder import new
from recipec.syntax.words import words

MarkKind = Literal["food", "gear", "reading"]
CLOSING = {"[": "]", "{": "}", "<": ">"}
_KINDS: dict[str, MarkKind] = {"[": "food", "{": "gear"}
# A number, and the word that follows it.
_NUMBER = re.compile(r"~?\s*(?:[0-9]{1,9}[¼-¾⅐-↉]?|[¼-¾⅐-↉])(?:[.,/–:-][0-9]{1,9}){0,3}\s?([^\W\d_]{1,20}|[°º˚])?")
_NUMBER_END = re.compile(r"[.,;:!?)]?(?:\s*\Z|(?<![0-9\s])\s)")


class Mark(NamedTuple):
    """A whole mark, brackets included. `wrong` says that it ends in the other kind's closing bracket."""

    kind: MarkKind
    start: int
    end: int
    wrong: bool = False


class Brackets(NamedTuple):
    """What was found in a block, in the order of the text.

    `outer` are marks that hold another mark. `unclosed` and `stray` are single brackets. `arrow` is the `->` that
    begins the results, or None. `wrong` says that some mark is.
    """

    marks: list[Mark]
    outer: list[Mark]
    unclosed: list[int]
    stray: list[int]
    arrow: int | None
    wrong: bool = False


@cache
def _pattern(language: str) -> re.Pattern[str]:
    marks = words(language).marks
    heads = [*marks["about"], *marks["until"], *marks["gas"], *marks["by"], *marks["overnight"]]
    opens = "|".join(rf"{re.escape(word)}\b" for word in heads)
    # `<` opens a reading only before a digit or one of these words, and if a bracket closes it (rule 5).
    reading = rf"<(?=\s*(?:[0-9]|[¼-¾⅐-↉]|~|(?i:{opens})))[^<>\[\]{{}}\\]*(?:\\[\s\S][^<>\[\]{{}}\\]*)*(?<!-)>"
    # A mark with no other bracket in it is taken whole; everything else comes one bracket at a time. Each branch begins
    # with a plain character: the engine then skips from one such character to the next.
    # One that is not closed but stands close before such a word may have been meant as a reading.
    lone = rf"<(?=[0-9¼-¾⅐-↉~]|(?i:{opens}))"
    return re.compile(rf"\[[^\[\]{{}}<\\]*\]|\{{[^\[\]{{}}<\\]*\}}|{reading}|->|\[|\]|\{{|\}}|{lone}|\\[\s\S]")


def scan(text: str, start: int, end: int, language: str) -> Brackets:
    """The brackets of `text[start:end]`."""
    marks: list[Mark] = []
    arrows: list[int] = []
    odd: list[tuple[int, str, int]] = []
    lone: list[int] = []
    for found in _pattern(language).finditer(text, start, end):
        at, after = found.span()
        symbol = text[at]
        if symbol == "<":
            if after - at > 1:
                marks.append(new(Mark, ("reading", at, after, False)))
            elif _begins_reading(text, after, end, language):
                lone.append(at)
        elif symbol == "-":
            arrows.append(at)
        elif symbol != "\\":
            if after - at > 1:
                marks.append(new(Mark, (_KINDS[symbol], at, after, False)))
            else:
                # With each single bracket, how many marks came before it.
                odd.append((at, symbol, len(marks)))
    if not odd:
        return Brackets(marks, [], lone, [], _results_at(marks, [], arrows) if arrows else None)
    return _paired(marks, odd, lone, arrows)


def _begins_reading(text: str, start: int, end: int, language: str) -> bool:
    """Whether what follows a `<` that is never closed is a reading all the same: a number and a unit, or nothing more."""
    found = _NUMBER.match(text, start, end)
    if found is None:
        # Not a digit, so it is `about`, `until` and the like.
        return True
    word = found[1]
    if ":" in found[0]:
        return True
    if word is None:
        return _NUMBER_END.match(text, found.end(), end) is not None
    known = words(language)
    kind = known.kind_of.get(known.unit_of.get(word) or known.unit_of.get(word.lower(), ""), "")
    return word[0] in "°º˚" or word.lower() in known.temperature or kind in ("time", "length", "mass", "volume")


def _paired(marks: list[Mark], odd: list[tuple[int, str, int]], lone: list[int], arrows: list[int]) -> Brackets:
    """The single brackets, paired where they can be."""
    outer: list[Mark] = []
    more: list[Mark] = []
    unclosed: list[int] = []
    stray: list[int] = []
    stack: list[tuple[int, str, int]] = []
    waiting = {"[": 0, "{": 0}
    for at, symbol, before in odd:
        if symbol in "[{":
            # How many marks came before: more at its close means that it holds one.
            stack.append((at, symbol, before + len(more) + len(outer)))
            waiting[symbol] += 1
            continue
        opening = "[" if symbol == "]" else "{"
        if waiting[opening]:
            while stack[-1][1] != opening:
                # The bracket that this one closes lies further out: those between were never closed.
                lost, kind, _ = stack.pop()
                waiting[kind] -= 1
                unclosed.append(lost)
        elif not stack:
            stray.append(at)
            continue
        opened, kind, count = stack.pop()
        waiting[kind] -= 1
        mark = Mark(_KINDS[kind], opened, at + 1, kind != opening)
        (outer if count < before + len(more) + len(outer) else more).append(mark)
    unclosed.extend(at for at, _, _ in stack)
    unclosed.extend(lone)
    unclosed.sort()
    marks = sorted([*marks, *more], key=_start)
    wrong = any(mark.wrong for mark in [*more, *outer])
    return Brackets(marks, outer, unclosed, stray, _results_at(marks, outer, arrows) if arrows else None, wrong)


def _start(mark: Mark) -> int:
    return mark.start


def _results_at(marks: list[Mark], outer: list[Mark], arrows: list[int]) -> int | None:
    """The last arrow outside of marks, if no mark but gear comes after it."""
    spans = [(start, end, kind) for kind, start, end, _ in marks]
    if outer:
        spans = sorted([*spans, *((start, end, "gear") for _, start, end, _ in outer)])
    # The furthest end of all marks up to each: where marks hold marks, the outer one decides.
    reach = list(accumulate([end for _, end, _ in spans], max))
    last = len(spans)
    for at in reversed(arrows):
        while last and spans[last - 1][0] > at:
            last -= 1
            if spans[last][2] != "gear":
                return None
        if not last or reach[last - 1] <= at:
            return at
    return None
