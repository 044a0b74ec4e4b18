"""Every example of the language's reference is read, and does what the page says."""

from __future__ import annotations

import re
from typing import NamedTuple

import pytest

from recipec.base.places import grammar_dir
from recipec.base.source import Source
from recipec.syntax.parse import parse
from recipec.syntax.tree import FileKind, Step, Words


class Example(NamedTuple):
    tag: str
    text: str


PAGE = (grammar_dir() / "README.md").read_text("utf-8")
EXAMPLES = [Example(*match) for match in re.findall(r"^```([a-z][^\n]*)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)]
FILES = [example for example in EXAMPLES if example.tag in ("dish", "event", "kitchen")]
MARKS = [line for example in EXAMPLES if example.tag == "marks" for line in example.text.splitlines()]
WRONG = [example for example in EXAMPLES if example.tag.startswith("wrong ")]
INLINE = [mark for mark in re.findall(r"`(\[[^`]*\])`", PAGE) if mark not in ("[ ]", "[")]


def test_every_example_has_a_known_tag() -> None:
    # What larder.csv may hold is read by tests/larder; prices.csv and cookbook.toml by tests/analyse.
    tables = {"marks", "csv larder.csv", "csv prices.csv", "toml cookbook.toml"}
    others = sum(example.tag in tables for example in EXAMPLES)
    assert len(EXAMPLES) == len(FILES) + len(WRONG) + others
    assert len(FILES) >= 5 and len(MARKS) >= 60 and len(WRONG) >= 8


@pytest.mark.parametrize("example", FILES, ids=lambda example: example.text.splitlines()[0])
def test_whole_files_are_read_without_a_finding(example: Example) -> None:
    kind: FileKind = example.tag  # type: ignore[assignment]
    parsed = parse(Source("a." + kind, example.text), kind)
    assert parsed.findings == ()
    assert all(fact.value is not None for fact in parsed.tree.facts)


@pytest.mark.parametrize("mark", [*MARKS, *INLINE])
def test_a_mark_alone_is_one_mark(mark: str) -> None:
    parsed = parse(Source("a.dish", f"Title\n\nTake {mark}"), "dish")
    assert parsed.findings == ()
    (step,) = parsed.tree.blocks
    assert isinstance(step, Step)
    words, piece = step.sentences[0].pieces
    assert isinstance(words, Words) and not isinstance(piece, Words)
    assert piece.span.text == mark


@pytest.mark.parametrize("example", WRONG, ids=lambda example: example.text.strip())
def test_what_is_refused_gets_the_finding_named(example: Example) -> None:
    parsed = parse(Source("a.dish", "Title\n\n" + example.text), "dish")
    assert [finding.slug for finding in parsed.findings] == [example.tag.removeprefix("wrong ")]
    assert parsed.findings[0].hints


def test_all_facts_of_the_table_are_on_the_page() -> None:
    from recipec.syntax.words import words

    for kind, facts in words().facts.items():
        page = "\n".join(example.text for example in FILES if example.tag == kind)
        for name in facts:
            if (kind, name) in (("event", "accept"), ("event", "price"), ("event", "measures")):
                continue
            assert re.search(rf"^{name}(?: [0-9]+)?:", page, re.MULTILINE), (kind, name)
