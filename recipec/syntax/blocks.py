"""Blocks: where one begins and ends, and which kind it is. One bad block loses only itself."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from recipec.base.span import Span
from recipec.syntax import explain
from recipec.syntax.brackets import scan
from recipec.syntax.builder import MOST, plain
from recipec.syntax.driver import Stuck
from recipec.syntax.prose import Prose
from recipec.syntax.tree import (
    Aside,
    Block,
    FileKind,
    Food,
    Heading,
    Holding,
    LayOut,
    Lost,
    Piece,
    Reading,
    Step,
    Stop,
    Words,
)
from recipec.syntax.words import words as words_of

# From a first character to the last line before a blank one; each branch can match in one way only.
_BLOCK = re.compile(r"\S[^\r\n]*(?:(?:\r\n|\r|\n)[^\S\r\n]*+\S[^\r\n]*)*")
_LINE_END = re.compile(r"\r\n|\r|\n")
_BULLETS = ("-", "–", "—", "•", "*", "·")
# A list of food begins with a mark, or with what many write before each line of a list.
_LIST = "[" + "".join(_BULLETS)
_BRACKET = re.compile(r"[\[\]{}<]")
_PARENTHESES = re.compile(r"\\[\s\S]|[()]")


@cache
def _for_the(language: str) -> re.Pattern[str]:
    """What may be left out at the head of a strand's name: `For the`."""
    heads = (r"\s+".join(re.escape(word) for word in words.split()) for words in words_of(language).marks["for-the"])
    return re.compile(rf"(?:{'|'.join(heads)})\s+", re.IGNORECASE)


def read(parse: Prose, kind: FileKind, start: int) -> list[Block]:
    """All blocks of the text from `start` on."""
    made: list[Block] = []
    # In an event what stands above the first course is prose for the guests.
    prose_only = kind == "event"
    for found in _BLOCK.finditer(parse.text, start):
        parse.limit = len(parse.findings) + MOST
        at, end = parse.trimmed(*found.span())
        while at < end:
            heading, after = _heading(parse, at, end)
            if heading is None:
                break
            made.append(heading)
            prose_only = False
            at, end = parse.trimmed(after, end)
        if at < end:
            made.append(_block(parse, kind, at, end, prose_only))
    return made


def _heading(parse: Prose, start: int, end: int) -> tuple[Heading | None, int]:
    """A heading on the first line of the block (rule 2), and where the rest of the block begins."""
    text = parse.text
    if parse.returns:
        line_end = _LINE_END.search(text, start, end)
        last, after = line_end.span() if line_end else (end, end)
    else:
        newline = text.find("\n", start, end)
        last, after = (newline, newline + 1) if newline >= 0 else (end, end)
    while text[last - 1].isspace():
        last -= 1
    stop = last
    if text[stop - 1] != ":" or text[stop - 2 : stop - 1] == "\\" or stop - 1 == start:
        return None, start
    first = text[start]
    found = None
    if _BRACKET.search(text, start, stop) is not None:
        # What is wrong with the brackets is said once: here only of a heading.
        found = scan(text, start, stop, parse.language)
    reading: Reading | None = None
    name_end = stop - 1
    if found is not None:
        if any(mark.kind != "reading" for mark in found.marks) or found.outer or found.unclosed:
            return None, start
        if found.stray:
            parse.brackets(start, stop)
        if found.marks:
            mark = found.marks[-1]
            made = parse.mark_of("reading", mark.start, mark.end)
            reading = made if isinstance(made, Reading) else None
            name_end = mark.start
    if first in "-" and text[start : start + 2] == "->":
        return None, start
    shown = parse.trimmed(start, name_end)
    while shown[1] > shown[0] and text[shown[1] - 1] == ",":
        shown = parse.trimmed(shown[0], shown[1] - 1)
    name = shown
    cut = _for_the(parse.language).match(text, *shown)
    if cut is not None and cut.end() < shown[1]:
        name = (cut.end(), shown[1])
    if text[name[1] - 1] == ")":
        # `For the sauce (optional):` is the sauce: what is remarked of it is no part of its name.
        opening = text.rfind("(", *name)
        if opening > name[0]:
            name = parse.trimmed(name[0], opening)
    span = Span(parse.source, start, stop)
    return Heading(span, parse.name(name), plain(text[shown[0] : shown[1]]), reading), after


def _block(parse: Prose, kind: FileKind, start: int, end: int, prose_only: bool) -> Block:
    text = parse.text
    if text[start] == "(" and text[end - 1] == ")" and _wholly_bracketed(text, start, end):
        found = parse.brackets(start + 1, end - 1)
        return Aside(Span(parse.source, start, end), tuple(parse.pieces(start + 1, end - 1, found.marks)))
    for words in parse.words.marks["stop"]:
        if text[start : start + len(words)].lower() == words:
            stop = _stop(parse, start, end, len(words))
            if stop is not None:
                return stop
    found = parse.brackets(start, end)
    if prose_only:
        for mark in found.marks[: explain.MOST]:
            parse.note(
                "stray-bracket", mark.start, mark.end, "Above the first course stands only prose for the guests.",
                "Move this below a course such as `Starter, <19:30>:`, or take the brackets off.",
            )  # fmt: skip
        return Step(Span(parse.source, start, end), parse.sentences(start, end, []), ())
    arrow = found.arrow
    stop_at = end if arrow is None else arrow
    marks = found.marks if arrow is None else [mark for mark in found.marks if mark.end <= arrow]
    sentences = parse.sentences(start, stop_at, marks)
    if kind == "dish" and text[start] in _LIST and arrow is None and len(sentences) == 1:
        foods = _laid_out(sentences[0].pieces, text)
        if foods:
            return LayOut(Span(parse.source, start, end), foods)
    results = () if arrow is None else parse.results(arrow + 2, end)
    return Step(Span(parse.source, start, end), sentences, results)


def _laid_out(pieces: Sequence[Piece], text: str) -> tuple[Food, ...]:
    """The food marks of a block that holds nothing else, one a line (rule 22); none when it does."""
    bulleted = isinstance(pieces[0], Words)
    foods = []
    for number, piece in enumerate(pieces):
        if isinstance(piece, Food) and number % 2 == bulleted:
            foods.append(piece)
            continue
        between = isinstance(piece, Words) and piece.text.strip() in (_BULLETS if bulleted else ("",))
        if not between or (number and _LINE_END.search(text, piece.span.start, piece.span.end) is None):
            return ()
    return tuple(foods)


def _wholly_bracketed(text: str, start: int, end: int) -> bool:
    depth = 0
    for found in _PARENTHESES.finditer(text, start, end):
        if found[0] == "(":
            depth += 1
        elif found[0] == ")":
            depth -= 1
            if depth == 0:
                return found.end() == end
    return False


def _stop(parse: Prose, start: int, end: int, skip: int) -> Block | None:
    """`Stop here: up to 2 d chilled.`; None when the words only begin a sentence of prose."""
    text = parse.text
    colon, _ = parse.trimmed(start + skip, end)
    if text[colon : colon + 1] != ":":
        return None
    token = parse.trimmed(colon + 1, end)
    if token[0] < token[1] and text[token[1] - 1] == ".":
        token = parse.trimmed(token[0], token[1] - 1)
    span = Span(parse.source, start, end)
    made = parse.run("stopping", token) if token[0] < token[1] else Stuck(token[0], frozenset())
    if isinstance(made, Holding):
        return Stop(span, made)
    parse.note(
        "bad-result",
        start,
        end,
        "It does not say how long the work may rest here.",
        "Write `Stop here: up to 2 d chilled.`",
    )
    return Lost(span)
