"""What every rule's handler stands on: spans, names, numbers, units and the findings met on the way."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from recipec.base.finding import Finding, Fix
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.syntax import numbers
from recipec.syntax.tree import Amount, Name, Term, Treatment
from recipec.syntax.words import Words, fold

Token = tuple[int, int]
"""A terminal's offsets."""

_ESCAPE = re.compile(r"\\([\s\S])")
_SPACES = re.compile(r"\s+")

MOST = 24
"""Findings of one block: past that it is so broken that more of them would not help."""

new = tuple.__new__
"""Makes a named tuple from all its fields at once, in half the time of its own constructor: for the nodes that every mark has."""


def plain(text: str) -> str:
    """Escapes resolved, white space folded to single spaces."""
    # Printable text has no other white space than the space.
    if not text.isprintable():
        text = text.replace("\n", " ")
        if not text.isprintable():
            return _ESCAPE.sub(r"\1", _SPACES.sub(" ", text))
    if "  " not in text and "\\" not in text:
        return text
    return _ESCAPE.sub(r"\1", _SPACES.sub(" ", text))


def shown_number(raw: str) -> str:
    """A number as it stands, cut short when nobody could mean it."""
    return raw if len(raw) <= 24 else raw[:22] + "…"


class Base:
    """The state of one parse. Handlers add to `findings`; a handler that cannot build its thing sets `broken`."""

    def __init__(self, source: Source, words: Words, *, event: bool) -> None:
        self.source = source
        self.text = source.text
        self.words = words
        self.unit_of = words.unit_of
        self.event = event
        self.findings: list[Finding] = []
        # How many findings there may be at most by the end of the block being read.
        self.limit = MOST
        self.mark: Token = (0, 0)
        self.broken = False
        # Treatments that stand before the name of the item being read.
        self.gloss: list[Treatment] = []

    def same(self, v: list[Any]) -> Any:
        """The handler of rules that hand on what their one symbol gave."""
        return v[0]

    def note(
        self,
        slug: str,
        start: int,
        end: int,
        message: str,
        *hints: str,
        fixes: tuple[tuple[str, str], ...] = (),
        elsewhere: tuple[Fix, ...] = (),
    ) -> None:
        """Add a finding on `start` to `end`, unless the block has had its share.

        Each fix is a replacement for just that stretch and the words that offer it; one `elsewhere` has its own stretch.
        """
        if len(self.findings) >= self.limit:
            return
        span = Span(self.source, start, end)
        made = tuple(Fix(span, replacement, offer) for replacement, offer in fixes) + elsewhere
        self.findings.append(Finding(slug, span, message, hints=hints, fixes=made))

    def span(self, start: int, end: int) -> Span:
        """A span with the white space at its end taken off."""
        text = self.text
        while end > start and text[end - 1].isspace():
            end -= 1
        return new(Span, (self.source, start, end))

    def trimmed(self, start: int, end: int) -> Token:
        """The stretch without white space at its ends."""
        text = self.text
        while start < end and text[start].isspace():
            start += 1
        while end > start and text[end - 1].isspace():
            end -= 1
        return start, end

    def name(self, token: Token) -> Name:
        """A token's words as a name."""
        start, end = token
        return new(Name, (new(Span, (self.source, start, end)), plain(self.text[start:end])))

    def tidy_name(self, token: Token) -> Name:
        """As `name`, for a token that may carry white space or a closing full stop."""
        span = self.span(*token)
        if span.text.endswith("."):
            span = self.span(span.start, span.end - 1)
        return Name(span, plain(span.text))

    def folded(self, token: Token) -> str:
        """A token's words as they are looked up."""
        return fold(self.text[token[0] : token[1]])

    def unit(self, token: Token) -> str:
        """The key of a unit's token."""
        raw = self.text[token[0] : token[1]].rstrip()
        return self.unit_of.get(raw) or self.unit_of[fold(raw)]

    def number(self, token: Token, *, unit: bool = False, amount: bool = False) -> tuple[Fraction, Fraction]:
        """A number's ends. What is wrong with it is a finding; the nearest reading of it is returned all the same.

        `unit` says that a unit follows, `amount` that it counts or measures a thing: then it may not be nothing.
        """
        raw = self.text[token[0] : token[1]]
        if raw[0].isalpha():
            value = self.words.numbers.get(fold(raw))
            if value is not None:
                return value, value
        low, high, trouble = numbers.read(raw)
        if trouble and (unit or trouble != "thousand") and (amount or trouble != "nothing"):
            self._bad_number(token, trouble)
        return low, high

    def _bad_number(self, token: Token, trouble: str) -> None:
        span = self.span(*token)
        raw = span.text
        start, end = span.start, span.end
        if trouble in ("comma", "thousand"):
            self._two_readings(start, end, raw)
        elif trouble == "groups":
            # The mark before one or two digits at the end is a decimal point; all others part thousands.
            whole, mark, part = re.fullmatch(r"(.*?)(?:([.,])([0-9]{1,2}))?", raw, re.DOTALL).groups()  # type: ignore[union-attr]
            self.odd_number(start, end, re.sub("[.,]", "", whole) + (f".{part}" if mark else ""))
        elif trouble == "zero":
            self.note("bad-number", start, end, f"`{raw}` divides by nothing.", "Write a number such as `1/2`.")
        elif trouble == "nothing":
            self.note(
                "bad-number", start, end, "Nothing of it.", "Take the mark out, or write `to taste` after a comma."
            )
        elif trouble == "huge":
            self.note("bad-number", start, end, "This number is too large for any kitchen.", "Write the amount again.")
        elif trouble == "down":
            low, high = re.split(r"\s?[-–—]\s?|\s+[^\W\d]+\s+", raw, maxsplit=1)
            fixes = [(f"{high}-{low}", f"turn the range round: {high}-{low}")]
            if "/" in high and "/" not in low:
                fixes.append((f"{low} {high}", f"read it as {low} and {high}"))
            self.note(
                "bad-number",
                start,
                end,
                f"The range `{raw}` runs down.",
                f"Write `{fixes[-1][0]}`.",
                fixes=tuple(fixes),
            )
        else:
            # Whatever value it had in the tree would be a guess: the mark stays plain words.
            self.broken = True
            self.odd_number(start, end, "1.5", "1 1/2")

    def odd_number(self, start: int, end: int, *better: str) -> None:
        """A number written in a way that is not the language's; one better way is what it says, more are mere examples."""
        raw = shown_number(self.text[start:end])
        self.note(
            "bad-number", start, end, f"`{raw}` is not written as a number here.",
            f"Write {'it as ' if len(better) > 1 else ''}{' or '.join(f'`{one}`' for one in better)}.",
            fixes=((better[0], f"write {better[0]}"),) if len(better) == 1 else (),
        )  # fmt: skip

    def _two_readings(self, start: int, end: int, raw: str) -> None:
        marks = re.findall(r"[.,]", raw)
        before, _, after = re.sub(r"[.,](?=.*[.,])", "", raw).replace(",", ".").partition(".")
        readings = []
        if after.isdigit() and before.isdigit():
            # A decimal with three digits would be taken for a thousand once more: those are written as fractions.
            value = Fraction(int(before + after), 10 ** len(after))
            whole, part = divmod(value, 1)
            short = after.rstrip("0")
            readings.append(f"{before}.{short}" if len(short) in (1, 2) else f"{whole} {part}" if part else str(whole))
            if len(after) == 3:
                readings.append(before + after)
        readings = [reading for reading in readings if len(reading) < 40] or [re.sub(r"[.,]", "", raw)]
        said = "a comma" if "," in marks else "a point before three digits"
        self.note(
            "bad-number", start, end, f"`{shown_number(raw)}` has {said}: it may be read as {' or as '.join(readings)}.",
            f"Write {' or '.join(f'`{reading}`' for reading in readings)}.",
            fixes=tuple((reading, f"read it as {reading}") for reading in readings),
        )  # fmt: skip

    def term(self, number: Token, unit: Token | None, size: Token | None = None) -> Term:
        """A number with its unit and size."""
        low, high = self.number(number, unit=unit is not None, amount=True)
        start, end = number[0], (unit or size or number)[1]
        text = self.text
        while text[end - 1].isspace():
            end -= 1
        key = None if unit is None else self.unit(unit)
        word = None if size is None else self.words.sizes[self.folded(size)]
        return new(Term, (new(Span, (self.source, start, end)), low, high, key, word))

    def amount(self, *terms: Term, about: bool = False, each: Term | None = None) -> Amount:
        """An amount over its terms."""
        last = terms[-1].span.end if each is None else max(each.span.end, terms[-1].span.end)
        first = terms[0].span.start if each is None else min(each.span.start, terms[0].span.start)
        return Amount(Span(self.source, first, last), terms, about, each)

    def duration(self, number: Token, unit: Token) -> tuple[Fraction, Fraction]:
        """Seconds of `7-10 min`."""
        factor = self.words.seconds[self.unit(unit)]
        raw = self.text[number[0] : number[1]]
        if raw[0].isalpha():
            low, high = self.number(number, unit=True)
            return low * factor, high * factor
        low, high, trouble = numbers.seconds(raw, factor)
        if trouble and trouble != "nothing":
            self._bad_number(number, trouble)
        return low, high
