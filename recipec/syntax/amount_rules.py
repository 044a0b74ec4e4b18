"""Handlers of the rules for amounts, and for what follows the comma of a food mark."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from recipec.base.span import Span
from recipec.syntax import numbers
from recipec.syntax.builder import Base, Token, new, plain
from recipec.syntax.tree import (
    Amount,
    Detail,
    Each,
    Flag,
    ForSeats,
    Percent,
    Rate,
    Term,
    Treatment,
    Without,
)
from recipec.syntax.words import fold

_LETTER = re.compile(r"[^\W\d_]")
_DIGITS = re.compile(r"[0-9]+")
PERCENT = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


class AmountRules(Base):
    """Amounts, treatments and the words that are reserved after a comma."""

    # ------------------------------------------------------------ amounts

    def _amount(self, term: Term) -> Amount:
        return new(Amount, (term[0], (term,), self._loose(term), None))

    def amount_count(self, v: list[Any]) -> Amount:
        return self._amount(self.term(v[0], None))

    def amount_unit(self, v: list[Any]) -> Amount:
        # Most marks begin so: this is `_amount(term(…))` for plain digits, with its steps taken here.
        (start, middle), (first, end) = v
        text = self.text
        low, high, trouble = numbers.read(text[start:middle])
        key = self.unit_of.get(text[first : end - 1])
        if trouble or key is None or text[end - 1] != " ":
            return self._amount(self.term(v[0], v[1]))
        span = new(Span, (self.source, start, end - 1))
        return new(Amount, (span, (new(Term, (span, low, high, key, None)),), False, None))

    def amount_size(self, v: list[Any]) -> Amount:
        return self._amount(self.term(v[0], None, v[1]))

    def amount_size_unit(self, v: list[Any]) -> Amount:
        return self._amount(self.term(v[0], v[2], v[1]))

    def amount_about(self, v: list[Any]) -> Amount:
        return Amount(Span(self.source, v[0][0], v[1].span.end), (v[1],), True)

    def amount_some(self, v: list[Any]) -> Amount:
        span = self.span(*v[0])
        return Amount(span, (Term(span, Fraction(1), Fraction(1), "handful"),), True)

    def amount_one_of(self, v: list[Any]) -> Amount:
        # `pinch of salt`: one of them.
        span = self.span(*v[0])
        return Amount(span, (Term(span, Fraction(1), Fraction(1), self.unit(v[0])),))

    def amount_plus(self, v: list[Any]) -> Amount:
        return Amount(v[0].span.to(v[-1].span), tuple(v[::2]), self._loose(v[0]))

    def amount_about_plus(self, v: list[Any]) -> Amount:
        return Amount(Span(self.source, v[0][0], v[3].span.end), (v[1], v[3]), True)

    def amount_and(self, v: list[Any]) -> Amount:
        # `1 lb 2 oz`: two measures of one kind, said in one breath.
        first, second = self.term(v[0], v[1]), self.term(v[2], v[3])
        kinds = {self.words.kind_of.get(term.unit or "") for term in (first, second)}
        if kinds not in ({"mass"}, {"volume"}):
            shown = second.span.text
            self.note(
                "unreadable-mark", second.span.start, second.span.end, f"A second amount, `{shown}`, stands here.",
                "What one pack holds goes in round brackets: `[1 tin (400 g) tomatoes]`; two amounts are joined with `plus`.",
            )  # fmt: skip
            self.broken = True
        return Amount(first.span.to(second.span), (first, second))

    def amount_times(self, v: list[Any]) -> Amount:
        held, about = v[-1]
        number = self._leading(v)
        span = Span(self.source, v[0][0], held.span.end)
        return Amount(span, (Term(self.span(*v[0]), *number, None),), about, held)

    def amount_times_unit(self, v: list[Any]) -> Amount:
        held, about = v[-2]
        unit = v[-1]
        low, high = self._leading(v[:-1])
        span = self.span(v[0][0], unit[1])
        return Amount(span, (Term(span, low, high, self.unit(unit)),), about, held)

    def _leading(self, v: list[Any]) -> tuple[Fraction, Fraction]:
        # Three symbols: `2 x 400 g`; two: `a 200 g`, which is one.
        return self.number(v[0]) if len(v) == 3 else (Fraction(1), Fraction(1))

    def amount_pack(self, v: list[Any]) -> Amount:
        held, about = v[-2]
        term = self.term(v[0], v[-4], v[1] if len(v) == 6 else None)
        if self.words.kind_of[term.unit or ""] != "counted":
            # `500 ml (2 cups)`: the same once more, in other measures; kept as words.
            self.gloss.append(Treatment(held.span, plain(held.span.text)))
            return self.amount(term, about=self._loose(term))
        return Amount(self.span(v[0][0], v[-1][1]), (term,), about or self._loose(term), held)

    def amount_dozen(self, v: list[Any]) -> Amount:
        # `2 dozen eggs` are 24: a dozen is a number here, never a pack.
        term = self.term(v[0], None, v[2] if len(v) > 2 else None)
        span = self.span(term.span.start, v[-1][1])
        return self._amount(term._replace(span=span, low=term.low * 12, high=term.high * 12))

    def amount_hyphened(self, v: list[Any]) -> Amount:
        # `1 14-ounce can`: a pack, what it holds written as one word.
        start, end = v[1]
        dash = self.text.index("-", start, end)
        unit = _LETTER.search(self.text, dash, end)
        held = self.term(self.trimmed(start, dash), (unit.start() if unit else end, end))
        low, high = (Fraction(1), Fraction(1)) if self.folded(v[0]) in self.words.articles else self.number(v[0])
        key = self.unit(v[2]) if len(v) > 2 else None
        whole = self.span(v[0][0], v[-1][1])
        return Amount(whole, (Term(whole, low, high, key),), False, held)

    def amount_pack_before(self, v: list[Any]) -> Amount:
        held, about = v[2]
        return Amount(self.span(v[0][0], v[4][1]), (self.term(v[0], v[4]),), about, held)

    def held_plain(self, v: list[Any]) -> tuple[Term, bool]:
        return self.term(v[0], v[1]), False

    def held_about(self, v: list[Any]) -> tuple[Term, bool]:
        return self.term(v[1], v[2]), True

    def term_count(self, v: list[Any]) -> Term:
        return self.term(v[0], None)

    def term_unit(self, v: list[Any]) -> Term:
        return self.term(v[0], v[1])

    def term_size(self, v: list[Any]) -> Term:
        return self.term(v[0], None, v[1])

    def term_size_unit(self, v: list[Any]) -> Term:
        return self.term(v[0], v[2], v[1])

    def _loose(self, term: Term) -> bool:
        # A heaped spoon and a small bunch are approximate (rule 13); so are a few and a couple.
        if term.size is not None:
            return term.unit is not None and term.size != "level"
        start = term.span.start
        if self.text[start] in "aA":
            said = fold(term.span.text)
            return any(said == words or said.startswith(words + " ") for words in self.words.loose_numbers)
        return False

    # ------------------------------------------------------------ details

    def details_one(self, v: list[Any]) -> list[Detail]:
        return v

    def details_more(self, v: list[Any]) -> list[Detail]:
        v[0].append(v[1])
        return v[0]  # type: ignore[no-any-return]

    def _words(self, start: int, end: int) -> Treatment | Flag:
        text = plain(self.text[start:end])
        span = new(Span, (self.source, start, end))
        flags = self.words.flags
        if text in flags or text.lower() in flags:
            return Flag(span, flags[text.lower()])  # type: ignore[arg-type]
        return new(Treatment, (span, text))

    def detail_treatment(self, v: list[Any]) -> Treatment | Flag:
        end: int = v[0][1]
        if self.text[end - 1] == ",":
            self._close_comma(v[0][0], end, v[1])
        return self._words(*v[1])

    def _close_comma(self, start: int, end: int, token: Token) -> None:
        """`[salt,pepper]`: by rule 8 a comma with no space parts nothing, so it is not clear what was meant."""
        shown = f"{plain(self.text[self.mark[0] + 1 : start]).strip()}, {plain(self.text[slice(*token)])}"
        opening, closing = self.text[self.mark[0]], self.text[self.mark[1] - 1]
        self.note(
            "unreadable-mark", end - 1, end, "No space follows this comma.",
            f"Write a space after the comma: `{opening}{shown}{closing}`."
            + (" Each food has a mark of its own." if opening == "[" else ""),
            fixes=((", ", "write a space after the comma"),),
        )  # fmt: skip

    def detail_extra(self, v: list[Any]) -> Treatment | Flag:
        # `plus more for drizzling`: not weighed, so not part of the name.
        return self._words(*self.trimmed(*v[0]))

    def detail_paren(self, v: list[Any]) -> Treatment | Flag:
        start, end = v[0]
        raw = self.text[start:end]
        inner = raw.strip()[1:-1]
        first = start + raw.index("(") + 1 + len(inner) - len(inner.lstrip())
        return self._words(first, first + len(inner.strip()))

    def detail_each(self, v: list[Any]) -> Each:
        return Each(self.span(v[1][0], v[3][1]), self.amount(self.term(v[1], v[2])))

    def detail_each_about(self, v: list[Any]) -> Each:
        return Each(self.span(v[1][0], v[4][1]), self.amount(self.term(v[2], v[3]), about=True))

    def _percent(self, token: Token) -> Fraction:
        return self.number(token)[0]

    def detail_percent(self, v: list[Any]) -> Percent:
        start, end = v[1]
        found = PERCENT.match(self.text, start, end)
        return Percent(
            Span(self.source, start, v[2][1]), self._percent((start, found.end() if found else end)), self.name(v[2])
        )

    def detail_rate(self, v: list[Any]) -> Rate:
        amount = self.amount(self.term(v[1], v[2]))
        one = Fraction(1)
        per = self.term(v[4], v[5]) if len(v) == 8 else Term(self.span(*v[4]), one, one, self.unit(v[4]))
        return Rate(Span(self.source, v[1][0], v[-1][1]), amount, per, self.name(v[-1]))

    def detail_without(self, v: list[Any]) -> Without | Treatment:
        span = Span(self.source, v[1][0], v[2][1])
        return Without(span, self.name(v[2])) if self.event else Treatment(span, plain(span.text))

    def detail_seats(self, v: list[Any]) -> ForSeats | Treatment:
        span = self.span(*v[1])
        if not self.event:
            return Treatment(span, plain(span.text))
        return ForSeats(span, tuple(int(digits) for digits in _DIGITS.findall(span.text) if len(digits) < 6))
