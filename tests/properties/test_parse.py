"""Reading never fails, loses no text, and puts every node where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from recipec.base.finding import KINDS
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax.parse import Parsed, parse
from recipec.syntax.tree import Aside, FileKind, Sentence, Step

PIECES = (
    *(
        "[",
        "]",
        "{",
        "}",
        "<",
        ">",
        "->",
        ":",
        ",",
        ";",
        "(",
        ")",
        "//",
        "\\",
        "\n\n",
        "\n",
        " ",
        "\r",
        "\r\n",
        "\t",
        "\0",
    ),
    *("é", "e\u0301", "漢", "\ufeff", "\ud800", "\u2028", "½", "٣", "\u00a0"),
    *(
        "the ",
        "our ",
        "half ",
        "the rest of the ",
        "1/2 ",
        "200 ",
        "g ",
        "tbsp ",
        "egg",
        "butter",
        "oven",
        "220 °C",
        "20 min",
    ),
    *(
        "alone",
        "For the crumb:",
        "serves: 4",
        "guests: 8",
        "-> crumb, holds 2 d chilled",
        " or ",
        " plus ",
        ", optional",
    ),
    *(
        "[200 g butter]",
        "{oven}",
        "<20 min>",
        "<until golden>",
        "Stop here: up to 2 d chilled.",
        "[1,5 kg x]",
        "<overnight>",
    ),
)
TEXTS = st.one_of(
    st.text(st.characters(), max_size=200),
    st.lists(st.sampled_from(PIECES), max_size=50).map("".join),
    st.lists(st.sampled_from(PIECES), max_size=50).map(lambda pieces: "Title\nserves: 4\n\n" + "".join(pieces)),
)
KIND = st.sampled_from(("dish", "event", "kitchen"))


def read(text: str, kind: FileKind) -> Parsed:
    return parse(Source("a." + kind, text), kind)


def children(node: Any) -> Iterator[Any]:
    for field in node:
        if isinstance(field, tuple) and not isinstance(field, Span):
            yield from [field] if hasattr(field, "_fields") else [child for child in field if hasattr(child, "_fields")]


def check_nested(node: Any, source: Source) -> None:
    start, end = node.span.start, node.span.end
    assert node.span.source is source and 0 <= start <= end <= len(source.text)
    for child in children(node):
        assert start <= child.span.start and child.span.end <= end, (type(node), type(child))
        check_nested(child, source)


def check_covered(start: int, end: int, spans: list[Span]) -> None:
    for span in spans:
        assert span.start == start
        start = span.end
    assert start == end


@settings(max_examples=400, deadline=None)
@given(TEXTS, KIND)
@example("T\n\n[1 lemon, zest of", "dish")
@example("T\n\n" + "[" * 50 + "]" * 30, "dish")
@example("T\n\n<1\n\n2>", "dish")
def test_any_text_is_read(text: str, kind: FileKind) -> None:
    parsed = read(text, kind)
    check_nested(parsed.tree, parsed.tree.span.source)
    for finding in parsed.findings:
        assert finding.slug in KINDS and finding.message
        for span in (finding.span, *(fix.span for fix in finding.fixes)):
            assert 0 <= span.start <= span.end <= len(text)
    for block in parsed.tree.blocks:
        if isinstance(block, Step) and block.sentences:
            check_covered(block.span.start, block.sentences[-1].span.end, [s.span for s in block.sentences])
            for sentence in block.sentences:
                check_covered(sentence.span.start, sentence.span.end, [piece.span for piece in sentence.pieces])
        if isinstance(block, Aside):
            check_covered(block.span.start + 1, block.span.end - 1, [piece.span for piece in block.pieces])


@settings(max_examples=100, deadline=None)
@given(TEXTS)
def test_reading_twice_gives_the_same(text: str) -> None:
    assert read(text, "dish") == read(text, "dish")


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
def test_a_bad_block_loses_only_itself(broken: str) -> None:
    broken = " ".join(broken.replace("//", "/").split())
    parsed = read(f"Title\n\nBefore [1 egg].\n\nx {broken} x\n\nAfter [2 figs] here.\n", "dish")
    first, last = parsed.tree.blocks[0], parsed.tree.blocks[-1]
    assert isinstance(first, Step) and isinstance(last, Step)
    assert first.sentences == sentences("Title\n\nBefore [1 egg].", first)
    assert [type(piece).__name__ for piece in last.sentences[-1].pieces] == ["Words", "Food", "Words"]


def sentences(text: str, like: Step) -> tuple[Sentence, ...]:
    alone = read(text, "dish").tree.blocks[0]
    assert isinstance(alone, Step)
    assert [s.span[1:] for s in alone.sentences] == [s.span[1:] for s in like.sentences]
    return like.sentences


@pytest.mark.parametrize(
    "text", ["[" * 300_000, "[]" * 100_000, "[" * 100_000 + "]" * 100_000, "<1" * 100_000, "(" * 200_000]
)
def test_a_great_many_brackets_are_read(text: str) -> None:
    parsed = read("Title\n\n" + text, "dish")
    assert len(parsed.tree.blocks) == 1
    # A block so broken says so a few times, not a hundred thousand times.
    assert len(parsed.findings) <= 30


def test_other_line_ends_change_nothing_but_places() -> None:
    text = "Title\nserves: 4\n\nFor the crumb:\n\nToast [80 g\nbread] well.\nRest. -> crumb\n"
    trees = [read(text.replace("\n", end), "dish").tree for end in ("\n", "\r\n", "\r")]
    shapes = [[type(block).__name__ for block in tree.blocks] for tree in trees]
    assert shapes[0] == shapes[1] == shapes[2] == ["Heading", "Step"]
    assert [tree.facts[0].key for tree in trees] == ["serves"] * 3
