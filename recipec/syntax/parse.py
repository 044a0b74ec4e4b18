"""Text to tree: the one way into this ring. Never raises on any text."""

from __future__ import annotations

import re
from typing import NamedTuple

from recipec.base.finding import Finding
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax import blocks
from recipec.syntax.builder import plain
from recipec.syntax.facts import Facts
from recipec.syntax.prose import Prose
from recipec.syntax.tree import Amount, Block, Fact, File, FileKind, Name, Remark

_LINE = re.compile(r"\S[^\r\n]*")
# The lines up to the next blank one.
_BLOCK = re.compile(r"[^\S\r\n]*\S[^\r\n]*(?:(?:\r\n|\r|\n)[^\S\r\n]*+\S[^\r\n]*)*")
_LINE_END = re.compile(r"\r\n|\r|\n")
_REMARK = re.compile(r"(\A\ufeff?|\r\n|\r|\n)([^\S\r\n]*//[^\r\n]*)")
# Characters that no editor writes into a text: they come of a file that is something else.
_FOREIGN = re.compile("[\x00-\x08\x0e-\x1f\x7f\ud800-\udfff]")


class Parsed(NamedTuple):
    """A file's tree, and what there is to say about the way it was written."""

    tree: File
    findings: tuple[Finding, ...]


def parse(source: Source, kind: FileKind, language: str = "en") -> Parsed:
    """Read a dish, an event or a kitchen. Mistakes are findings; everything around them is read all the same."""
    text, remarks = _without_remarks(source)
    reader = Prose(source, text, language, event=kind == "event")
    foreign = _FOREIGN.search(text)
    if foreign:
        at = foreign.start()
        reader.note(
            "bad-encoding", at, at + 1, f"Character U+{ord(foreign[0]):04X} belongs in no text.",
            "Save the file again as plain text in UTF-8.",
        )  # fmt: skip
    first = _LINE.search(text)
    whole = Span(source, 0, len(source.text))
    if first is None:
        reader.note("missing-fact", 0, 0, "This file is empty.", f"Its first line is the name of the {kind}.")
        return Parsed(File(whole, kind, None, (), remarks, ()), tuple(reader.findings))
    token = reader.trimmed(*first.span())
    title = Name(Span(source, *token), plain(text[token[0] : token[1]]))
    facts = Facts(reader, kind)
    if kind != "kitchen" and facts.starts(*first.span()):
        reader.note(
            "missing-fact", *token, "The title is missing: the first line is a fact.",
            f"Write the name of the {kind} on a line above it.",
        )  # fmt: skip
        found, at = _facts(reader, facts, first.start(), everything=False)
        title = Name(Span(source, 0, 0), "")
    else:
        found, at = _facts(reader, facts, first.end(), everything=kind == "kitchen")
    made: list[Block] = [] if kind == "kitchen" else blocks.read(reader, kind, at)
    # A remark belongs with the facts when it stands above the first block.
    border = made[0].span.start if made else (at if found or kind == "kitchen" else 0)
    # Remarks stand in the order of the text.
    cut = len(remarks) if kind == "kitchen" else sum(remark.span.start < border for remark in remarks)
    above, below = remarks[:cut], remarks[cut:]
    if below:
        made = sorted([*made, *below], key=lambda block: block.span.start)
    tree = File(whole, kind, title if title.text else None, tuple(found), above, tuple(made))
    return Parsed(tree, tuple(sorted(reader.findings, key=lambda finding: finding.order)))


def parse_amount(span: Span, language: str = "en") -> Amount | None:
    """An amount that stands alone, as in a list of prices: `500 g`, `12`, `1 bottle (750 ml)`. None when it is none."""
    reader = Prose(span.source, span.source.text, language, event=False)
    token = reader.trimmed(span.start, span.end)
    if token[0] == token[1]:
        return None
    made = reader.run("quantity", token)
    return made if isinstance(made, Amount) and not reader.findings and not reader.broken else None


def _without_remarks(source: Source) -> tuple[str, tuple[Remark, ...]]:
    """The text with remarks and a byte order mark blanked out, offsets kept.

    The line end before a remark goes with it, so that a remark in the middle of a paragraph does not part it.
    """
    text = source.text
    if text.startswith("\ufeff"):
        text = " " + text[1:]
    if "//" not in text:
        return text, ()
    remarks = []
    pieces = []
    at = 0
    for found in _REMARK.finditer(text):
        start = found.start(2) + len(found[2]) - len(found[2].lstrip())
        words = found[2].strip()[2:].strip()
        remarks.append(Remark(Span(source, start, found.end()), words))
        pieces += [text[at : found.start()], " " * (found.end() - found.start())]
        at = found.end()
    return "".join([*pieces, text[at:]]), tuple(remarks)


def _facts(reader: Prose, facts: Facts, at: int, *, everything: bool) -> tuple[list[Fact], int]:
    """The facts that begin after `at`, and where they end."""
    text = reader.text
    found: list[Fact] = []
    blank = 0
    begun = False
    start = at
    while start <= len(text):
        line_end = _LINE_END.search(text, start)
        end = line_end.start() if line_end else len(text)
        after = line_end.end() if line_end else len(text) + 1
        if not text[start:end].strip():
            if start > at or begun:
                blank += 1
            if (begun or blank > 1) and not everything:
                break
        else:
            if not begun and not everything and not facts.starts(*reader.trimmed(start, end)):
                block = _BLOCK.match(text, start)
                if block is None or not facts.begins(*block.span()):
                    return found, at
            begun = True
            fact = facts.line(start, end)
            if fact is not None:
                found.append(fact)
        start = after
    return found, min(start, len(text)) if begun else at
