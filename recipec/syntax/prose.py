"""Prose with marks in it: one stretch of text to pieces and sentences."""

from __future__ import annotations

import re
from functools import cache

from recipec.base.finding import Finding, Fix
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax import explain
from recipec.syntax.brackets import CLOSING, Brackets, Mark, scan
from recipec.syntax.builder import Token, new, plain
from recipec.syntax.driver import Driver, Stuck
from recipec.syntax.fact_rules import FactRules
from recipec.syntax.kept import kept
from recipec.syntax.table import load
from recipec.syntax.tree import Food, Gear, Piece, Reading, Result, Sentence, Words
from recipec.syntax.words import words

# The last character of a sentence with the white space after it; what stands before it is looked at in `_ends`.
_SENTENCE_END = re.compile(r"[.!?)\"'”’]\s+")
_CLOSERS = ")\"'”’"
_OPENERS = "([{<\"'“‘«"
LONGEST = 1000
"""Characters of one mark, result or value of a fact. Nobody writes so many; a bound keeps all reading linear."""


@cache
def _driver(language: str) -> Driver:
    table = load(language)
    return Driver(table, [getattr(Prose, name) for name, _, _ in table.rules])


@cache
def _stop_tails(language: str) -> frozenset[str]:
    """How the listed abbreviations end, by two characters: only then is the whole word looked at."""
    return frozenset(word.removesuffix(".")[-2:] for word in words(language).abbreviations)


class Prose(FactRules):
    """Reads stretches of one source. Everything it meets on the way goes to `findings`."""

    def __init__(self, source: Source, text: str, language: str, *, event: bool) -> None:
        super().__init__(source, words(language), event=event)
        # Remarks are blanked out in `text`; its offsets are those of the source.
        self.text = text
        # Known once: a search of the whole text for each heading would make reading quadratic.
        self.returns = "\r" in text
        self.language = language
        self.driver = _driver(language)
        self.kept = kept(language, event)
        self.stop_tails = _stop_tails(language)

    def run(self, start: str, token: Token) -> object:
        """Parse a stretch by one start rule: the node, or `Stuck`."""
        return self.driver.parse(start, self.text, *token, self)

    # ------------------------------------------------------------ marks

    def mark_of(self, kind: str, start: int, end: int) -> Food | Gear | Reading | None:
        """The node of one mark, brackets included; None when it could not be read, and a finding says why."""
        raw = self.text[start:end]
        known = self.kept.make(raw, self.source, start)
        if known is not None:
            return known  # type: ignore[no-any-return]
        noted = len(self.findings)
        made = self._fresh(kind, start, end)
        if made is not None and len(self.findings) == noted:
            self.kept.met(raw, made, start)
        return made

    def _fresh(self, kind: str, start: int, end: int) -> Food | Gear | Reading | None:
        text = self.text
        first, last = start + 1, end - 1
        if text[first].isspace() or text[last - 1].isspace():
            first, last = self.trimmed(first, last)
        if first >= last:
            self.note("empty-mark", start, end, "Nothing stands in this mark.", f"Write {explain.EMPTY[kind]}.")
            return None
        self.mark = (start, end)
        self.broken = False
        self.gloss = []
        if last - first > LONGEST:
            self.note(
                "unreadable-mark", start, start + 1, "This mark runs on for too long.", "Is its closing bracket missing?"
            )  # fmt: skip
            return None
        made = self.driver.parse(kind, text, first, last, self)
        if type(made) is Stuck:
            explain.mark(self, kind, (first, last), made)
            return None
        if self.broken:
            return None
        if kind == "food":
            return new(Food, (new(Span, (self.source, start, end)), tuple(made)))
        return made  # type: ignore[no-any-return]

    def gear(self, token: Token) -> Gear | None:
        outside = self.mark
        start, end = self.trimmed(*token)
        made = self.mark_of("gear", start, end)
        self.mark = outside
        return made if isinstance(made, Gear) else None

    def brackets(self, start: int, end: int) -> Brackets:
        """The brackets of a block, with a finding for each that does not belong."""
        found = scan(self.text, start, end, self.language)
        if found.unclosed or found.stray or found.outer or found.wrong:
            self._bracket_findings(found, end)
        return found

    def _bracket_findings(self, found: Brackets, end: int) -> None:
        starts = sorted([*found.unclosed, *found.stray, *(mark.start for mark in [*found.marks, *found.outer])])
        following = dict(zip(starts, [*starts[1:], end], strict=True))
        for at in found.unclosed[: explain.MOST]:
            bracket = self.text[at]
            place = explain.close_of(self, at + 1, following[at])
            closing = CLOSING[bracket]
            shown = plain(self.text[at + 1 : place].strip())[-30:]
            span = Span(self.source, at, at + 1)
            if not shown:
                # There is nothing that it could enclose.
                out = Fix(span, "", "take it out")
                self.findings.append(
                    Finding(
                        "unclosed-mark", span, f"This `{bracket}` is never closed, and nothing stands in it.",
                        hints=(f"Take it out, or write `\\{bracket}` for a plain bracket.",), fixes=(out,),
                    )
                )  # fmt: skip
                continue
            fix = Fix(Span(self.source, place, place), closing, f"close it after `{shown}`")
            self.findings.append(
                Finding(
                    "unclosed-mark", span, f"This `{bracket}` is never closed.",
                    hints=(f"Write `{closing}` after `{shown}`, or `\\{bracket}` for a plain bracket.",), fixes=(fix,),
                )
            )  # fmt: skip
        for mark in [mark for mark in [*found.marks, *found.outer] if mark.wrong][: explain.MOST]:
            bracket = self.text[mark.start]
            closing, wrong = CLOSING[bracket], self.text[mark.end - 1]
            self.note(
                "unclosed-mark", mark.end - 1, mark.end, f"A mark opened by `{bracket}` is closed by `{wrong}`.",
                f"Write `{closing}`.", fixes=((closing, f"write `{closing}`"),),
            )  # fmt: skip
        for mark in found.outer[: explain.MOST]:
            self.note(
                "unreadable-mark", mark.start, mark.end, "One mark lies inside another.",
                "Write the marks side by side.",
            )  # fmt: skip
        for at in found.stray[: explain.MOST]:
            bracket = self.text[at]
            self.note(
                "stray-bracket", at, at + 1, f"This `{bracket}` closes nothing.",
                f"Take it out, or write `\\{bracket}` for a plain bracket.",
            )  # fmt: skip

    # ------------------------------------------------------------ pieces and sentences

    def pieces(self, start: int, end: int, marks: list[Mark]) -> list[Piece]:
        """Words and marks that together cover the stretch."""
        return [piece for sentence in self.sentences(start, end, marks) for piece in sentence.pieces]

    def sentences(self, start: int, end: int, marks: list[Mark]) -> tuple[Sentence, ...]:
        """Words and marks that together cover the stretch, parted where sentences end (rule 6)."""
        text, source = self.text, self.source
        done: list[Sentence] = []
        current: list[Piece] = []
        begin = at = start
        for kind, first, last, _ in [*marks, ("", end, end, False)]:
            if first < at or last > end:
                continue
            made = self.mark_of(kind, first, last) if kind else None
            if made is None and kind:
                continue
            if first > at:
                stretch = text[at:first]
                if "." in stretch or "!" in stretch or "?" in stretch:
                    for found in _SENTENCE_END.finditer(text, at, first):
                        if self._ends(found, at, first):
                            stop = found.end()
                            current.append(self._prose(at, stop))
                            done.append(new(Sentence, (new(Span, (source, begin, stop)), tuple(current))))
                            current = []
                            begin = at = stop
                    stretch = text[at:first]
                if stretch:
                    current.append(new(Words, (new(Span, (source, at, first)), plain(stretch))))
            if made is not None:
                current.append(made)
            at = last
        if current:
            done.append(new(Sentence, (new(Span, (source, begin, end)), tuple(current))))
        return tuple(done)

    def _prose(self, start: int, end: int) -> Words:
        return new(Words, (new(Span, (self.source, start, end)), plain(self.text[start:end])))

    def _ends(self, found: re.Match[str], start: int, end: int) -> bool:
        text = self.text
        stop = found.end()
        if stop < end:
            letter = text[stop]
            if letter in _OPENERS and stop + 1 < end:
                letter = text[stop + 1]
            if not letter.isupper():
                return False
        at = found.start()
        # A closing bracket or quote may stand behind the stop, seldom more than two.
        for _ in range(3):
            if text[at] not in _CLOSERS or at <= start:
                break
            at -= 1
        if text[at] not in ".!?":
            return False
        if text[at] == "." and text[at - 2 : at].lower() in self.stop_tails:
            word = text[max(start, text.rfind(" ", start, at) + 1) : at + 1]
            if len(word) < 12:
                return word.split()[-1].lower().lstrip("(") not in self.words.abbreviations
        return True

    # ------------------------------------------------------------ results

    def results(self, start: int, end: int) -> tuple[Result, ...]:
        """What stands after an arrow. Of a result that cannot be read in full the name at least is kept."""
        token = self.trimmed(start, end)
        if token[0] == token[1]:
            explain.no_result(self, start - 2, start)
            return ()
        if self.text[token[1] - 1] == "." and token[1] - 1 > token[0]:
            token = self.trimmed(token[0], token[1] - 1)
        made = self.run("results", token) if token[1] - token[0] <= LONGEST else Stuck(token[0], frozenset())
        if not isinstance(made, Stuck):
            return tuple(made)  # type: ignore[arg-type]
        whole: list[Result] = []
        empty = False
        for first, last in explain.segments(self.text, *token):
            stretch = self.trimmed(first, last)
            if stretch[0] == stretch[1]:
                if not empty:
                    explain.no_result(self, *token)
                empty = True
                continue
            fits = stretch[1] - stretch[0] <= LONGEST
            made = self.run("results", stretch) if fits else Stuck(stretch[0], frozenset())
            if not isinstance(made, Stuck):
                whole.extend(made)  # type: ignore[arg-type]
                continue
            explain.result(self, stretch, made)
            comma = self.text.find(",", *stretch)
            name = self.trimmed(stretch[0], comma if comma >= 0 else stretch[1])
            alone = self.run("results", name) if 0 < name[1] - name[0] <= LONGEST else made
            if not isinstance(alone, Stuck):
                whole.extend(alone)  # type: ignore[arg-type]
        return tuple(whole)
