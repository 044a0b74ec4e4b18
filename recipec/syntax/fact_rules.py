"""Handlers of the rules for results, holds and the values of facts."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, NamedTuple

from recipec.base.span import Span
from recipec.syntax.builder import Token, plain
from recipec.syntax.food_rules import FoodRules
from recipec.syntax.reading_rules import ReadingRules, Stretch
from recipec.syntax.tree import (
    Acceptance,
    Amount,
    Children,
    DayTime,
    Degrees,
    Feature,
    Gear,
    Guests,
    Hands,
    HandsTurn,
    Holding,
    Keeps,
    Name,
    Need,
    Number,
    Result,
    Stock,
    Sum,
    Temperature,
    Term,
    Yield,
)
from recipec.syntax.tree import Stretch as StretchFact
from recipec.syntax.words import fold

_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_AND = re.compile(r"\s*,\s*|\s+(?:and|or)\s+")


class Yields(NamedTuple):
    """How much there is of something made: the amount and, for things counted by a noun, the noun."""

    amount: Amount
    noun: str | None


class FactRules(FoodRules, ReadingRules):
    """Results, holds and facts. `gear` reads the inside of a gear mark that stands in a result."""

    def gear(self, token: Token) -> Gear | None:
        raise NotImplementedError

    # ------------------------------------------------------------ results

    def results_one(self, v: list[Any]) -> list[Result]:
        return v

    def results_more(self, v: list[Any]) -> list[Result]:
        v[0].append(v[2])
        return v[0]  # type: ignore[no-any-return]

    def result_name(self, v: list[Any]) -> Result:
        name = self.tidy_name(v[0])
        for article in self.words.marks["the"]:
            if fold(name.text).startswith(article + " "):
                start = name.span.start + len(article)
                start += len(self.text[start : name.span.end]) - len(self.text[start : name.span.end].lstrip())
                name = self.name((start, name.span.end))
        return Result(name.span, name, None, None, False)

    def _grown(self, result: Result, end: int, **changes: Any) -> Result:
        return result._replace(span=self.span(result.span.start, end), **changes)

    def result_amount(self, v: list[Any]) -> Result:
        return self._grown(v[0], v[2].amount.span.end, amount=v[2].amount)

    def result_holds(self, v: list[Any]) -> Result:
        hold: Holding = v[3]
        hold = hold._replace(span=self.span(v[2][0], hold.span.end))
        return self._grown(v[0], hold.span.end, holding=hold)

    def _held(self, result: Result, token: Token, end: int, **changes: Any) -> Result:
        if result.holding is None:
            span = self.span(token[0], end)
            self.note(
                "bad-result", span.start, span.end, "It does not say how long this is held.",
                "Write the hold first: `holds 3 d chilled, cooled in 90 min, back in 25 min in {the oven}`.",
            )  # fmt: skip
            return result
        holding = result.holding._replace(span=self.span(result.holding.span.start, end), **changes)
        return self._grown(result, end, holding=holding)

    def result_cooled(self, v: list[Any]) -> Result:
        return self._held(v[0], v[2], v[3].end, cooled_in=v[3].high)

    def result_back(self, v: list[Any]) -> Result:
        gear = self.gear(v[5]) if len(v) > 4 else None
        return self._held(v[0], v[2], v[-1][1] if len(v) > 4 else v[3].end, back_in=v[3].high, back_gear=gear)

    def result_discarded(self, v: list[Any]) -> Result:
        return self._grown(v[0], v[2][1], discarded=True)

    def yields_count(self, v: list[Any]) -> Yields:
        return Yields(self.amount(self.term(v[0], None)), None)

    def yields_unit(self, v: list[Any]) -> Yields:
        return self._yields(self.term(v[0], v[1]), v[1], False, None)

    def _yields(self, term: Term, unit: Token, about: bool, each: Term | None) -> Yields:
        noun = None
        if term.unit is not None and self.words.kind_of[term.unit] == "counted" and each is None:
            # `24 pieces`, `2 loaves`: counted things, whose name is the noun.
            noun = plain(self.span(*unit).text)
            term = term._replace(unit=None)
        return Yields(self.amount(term, about=about, each=each), noun)

    def yields_pack(self, v: list[Any]) -> Yields:
        return self._yields(self.term(v[0], v[1]), v[1], False, self.term(v[3], v[4]))

    def yields_noun(self, v: list[Any]) -> Yields:
        term = self.term(v[0], None)
        noun = self.tidy_name(v[1])
        return Yields(self.amount(term._replace(span=term.span.to(noun.span))), noun.text)

    def yields_about(self, v: list[Any]) -> Yields:
        if len(v) == 2:
            made = Yields(self.amount(self.term(v[1], None), about=True), None)
        else:
            made = self._yields(self.term(v[1], v[2]), v[2], True, None)
        return self._from(v[0][0], made)

    def yields_about_noun(self, v: list[Any]) -> Yields:
        made = self.yields_noun(v[1:])
        return self._from(v[0][0], made._replace(amount=made.amount._replace(about=True)))

    def _from(self, start: int, made: Yields) -> Yields:
        span = Span(self.source, start, made.amount.span.end)
        return made._replace(amount=made.amount._replace(span=span))

    def _hold(self, while_: Stretch, end: int, state: Token | None, vessel: Token | None) -> Holding:
        key = self.words.states[self.folded(state)] if state else ""
        gear = self.gear(vessel) if vessel else None
        return Holding(self.span(while_.start, end), while_.low, while_.high, key, gear)  # type: ignore[arg-type]

    def hold_plain(self, v: list[Any]) -> Holding:
        return self._hold(v[0], v[0].end, None, None)

    def hold_state(self, v: list[Any]) -> Holding:
        return self._hold(v[0], v[1][1], v[1], None)

    def hold_vessel(self, v: list[Any]) -> Holding:
        return self._hold(v[0], v[2][1], None, v[2])

    def hold_state_vessel(self, v: list[Any]) -> Holding:
        return self._hold(v[0], v[3][1], v[1], v[3])

    # ------------------------------------------------------------ facts

    def count_bare(self, v: list[Any]) -> Number:
        return Number(self.span(*v[0]), *self.number(v[0]), "")

    def count_words(self, v: list[Any]) -> Number:
        rest = self.span(*v[1])
        return Number(self.span(v[0][0], v[1][1]), *self.number(v[0]), plain(rest.text))

    def count_range(self, v: list[Any]) -> Number:
        # `four to six`: as `4 to 6`.
        low, high = self.number(v[0])[1], self.number(v[2])[1]
        if high < low:
            span = self.span(v[0][0], v[2][1])
            self.note(
                "bad-number", span.start, span.end, f"The range `{span.text}` runs down.", "Write the smaller first."
            )
            low, high = high, low
        return Number(self.span(v[0][0], v[-1][1]), low, high, plain(self.span(*v[3]).text) if len(v) > 3 else "")

    def yield_bare(self, v: list[Any]) -> Yield:
        return Yield(v[0].amount.span, v[0].amount, v[0].noun, None)

    def yield_plate(self, v: list[Any]) -> Yield:
        plate = self.amount(self.term(v[2], v[3]))
        return Yield(self.span(v[0].amount.span.start, v[4][1]), v[0].amount, v[0].noun, plate)

    def keeps_one(self, v: list[Any]) -> Keeps:
        return Keeps(v[0].span, (v[0],))

    def keeps_more(self, v: list[Any]) -> Keeps:
        return Keeps(v[0].span.to(v[2].span), (*v[0].holdings, v[2]))

    def acceptance_plain(self, v: list[Any]) -> Acceptance:
        return Acceptance(self.span(v[0][0], v[2][1]), self.name(v[0]), None, self.tidy_name(v[2]))

    def acceptance_subject(self, v: list[Any]) -> Acceptance:
        return Acceptance(self.span(v[0][0], v[4][1]), self.name(v[0]), self.tidy_name(v[2]), self.tidy_name(v[4]))

    def _date(self, token: Token) -> tuple[int, int, int] | None:
        found = _DATE.match(self.text, *token)
        year, month, day = (int(part) for part in found.groups()) if found else (0, 0, 0)
        days = (
            29 if month == 2 and (year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)) else 28 if month == 2 else 31
        )
        if not 1 <= month <= 12 or not 1 <= day <= (30 if month in (4, 6, 9, 11) else days) or year < 1:
            span = self.span(*token)
            self.note(
                "bad-fact", span.start, span.end, f"`{span.text}` is no day of the calendar.", "Write `2026-10-17`."
            )
            return None
        return year, month, day

    def daytime_date(self, v: list[Any]) -> DayTime | None:
        date = self._date(v[0])
        return date and DayTime(self.span(*v[0]), date, 0, None)

    def daytime_clock(self, v: list[Any]) -> DayTime | None:
        times = self.clock(v[0])
        return times and DayTime(self.span(*v[0]), None, *times)

    def daytime_both(self, v: list[Any]) -> DayTime | None:
        date, times = self._date(v[0]), self.clock(v[1])
        return DayTime(self.span(v[0][0], v[1][1]), date, *times) if date and times else None

    def whole(self, token: Token) -> int:
        """A whole number of people or things; a finding and 1 when it is not one."""
        low, high = self.number(token)
        if low != high or high.denominator != 1:
            span = self.span(*token)
            self.note("bad-fact", span.start, span.end, f"`{span.text}` must be one whole number.", "Write it as `8`.")
            return max(1, int(high))
        return int(high)

    def guests_plain(self, v: list[Any]) -> Guests:
        return Guests(self.span(*v[0]), self.whole(v[0]), 0, 0)

    def guests_expecting(self, v: list[Any]) -> Guests:
        return v[0]._replace(span=self.span(v[0].span.start, v[3][1]), expecting=self.whole(v[2]))  # type: ignore[no-any-return]

    def guests_under_five(self, v: list[Any]) -> Guests:
        return v[0]._replace(span=self.span(v[0].span.start, v[3][1]), under_five=self.whole(v[2]))  # type: ignore[no-any-return]

    def hands_one(self, v: list[Any]) -> Hands:
        return Hands(v[0].span, (v[0],))

    def hands_more(self, v: list[Any]) -> Hands:
        return Hands(v[0].span.to(v[2].span), (*v[0].turns, v[2]))

    def turn_all_day(self, v: list[Any]) -> HandsTurn:
        return HandsTurn(self.span(*v[0]), self.whole(v[0]), None, None)

    def turn_window(self, v: list[Any]) -> HandsTurn:
        start, end = self.clock(v[2]) or (0, None)
        if end is None:
            span = self.span(v[1][0], v[2][1])
            self.note("bad-fact", span.start, span.end, "It does not say until when.", "Write `2 from 16:00 to 22:00`.")
        return HandsTurn(self.span(v[0][0], v[2][1]), self.whole(v[0]), start, end)

    def _sum(self, number: Token, currency: Token, start: int, end: int) -> Sum:
        low, _ = self.number(number, unit=False)
        raw = self.text[currency[0] : currency[1]].strip()
        return Sum(self.span(start, end), low, self.words.currencies.get(raw, raw))

    def sum_after(self, v: list[Any]) -> Sum:
        return self._sum(v[0], v[1], v[0][0], v[1][1])

    def sum_before(self, v: list[Any]) -> Sum:
        return self._sum(v[1], v[0], v[0][0], v[1][1])

    def seat_one(self, v: list[Any]) -> list[Need]:
        return list(v[0])

    def seat_more(self, v: list[Any]) -> list[Need]:
        before, _, needs = v
        if before[-1].kind == "allergic" and all(
            need.kind == "diet" and need.what.text.lower() not in self.words.diets for need in needs
        ):
            # `allergic to nuts, sesame`: what is no diet goes with the allergy before it, the safe way round.
            needs = [need._replace(kind="allergic") for need in needs]
        return [*before, *needs]

    def _needs(self, kind: Any, token: Token) -> list[Need]:
        span = self.span(*token)
        needs = []
        at = span.start
        raw = span.text
        for piece in [*_AND.finditer(raw), None]:
            end = span.start + (piece.start() if piece else len(raw))
            if end > at:
                name = self.tidy_name((at, end))
                needs.append(Need(name.span, kind, name))
            at = span.start + (piece.end() if piece else len(raw))
        return needs

    def need_allergic(self, v: list[Any]) -> list[Need]:
        return self._needs("allergic", v[1])

    def need_rather_not(self, v: list[Any]) -> list[Need]:
        return self._needs("rather not", v[1])

    def need_without(self, v: list[Any]) -> list[Need]:
        return self._needs("without", v[1])

    def need_no(self, v: list[Any]) -> list[Need]:
        both = self.tidy_name((v[0][0], v[1][1]))
        if fold(both.text) in self.words.diets:
            return [Need(both.span, "diet", both)]
        return self._needs("without", v[1])

    def need_bare(self, v: list[Any]) -> list[Need]:
        name = self.tidy_name(v[0])
        return [Need(name.span, "diet", name)]

    def children_plain(self, v: list[Any]) -> Children:
        return Children(self.span(*v[0]), self.whole(v[0]), Fraction(1))

    def children_plates(self, v: list[Any]) -> Children:
        return Children(self.span(v[0][0], v[2][1]), self.whole(v[0]), self.words.plates[self.folded(v[2])])

    def stretch(self, v: list[Any]) -> StretchFact:
        return StretchFact(self.span(v[0].start, v[0].end), v[0].high)

    def tolerance(self, v: list[Any]) -> Degrees:
        value = self.number(v[0])[1]
        fahrenheit = self.text[v[1][0] : v[1][1]].strip().lower().endswith(("f", "fahrenheit"))
        return Degrees(self.span(v[0][0], v[1][1]), value * Fraction(5, 9) if fahrenheit else value)

    # ------------------------------------------------------------ a kitchen's gear

    def stock_count(self, v: list[Any]) -> Stock:
        return Stock(self.span(*v[0]), self.whole(v[0]), ())

    def stock_feature(self, v: list[Any]) -> Stock:
        return Stock(v[0].span, 1, (v[0],))

    def stock_more(self, v: list[Any]) -> Stock:
        return Stock(v[0].span.to(v[2].span), v[0].number, (*v[0].features, v[2]))

    def _counted(self, key: str, v: list[Any]) -> Feature:
        span = self.span(v[0][0], v[1][1])
        return Feature(span, key, self.amount(self.term(v[0], None)), None, plain(span.text))

    def feature_shelves(self, v: list[Any]) -> Feature:
        return self._counted("shelves", v)

    def feature_burners(self, v: list[Any]) -> Feature:
        return self._counted("burners", v)

    def feature_up_to(self, v: list[Any]) -> Feature:
        value, _ = self._temperature(v[1], v[2], None, v[1][0], False)
        span = self.span(v[0][0], v[2][1])
        return Feature(span, "up to", None, value if isinstance(value, Temperature) else None, plain(span.text))

    def feature_heats(self, v: list[Any]) -> Feature:
        # Kelvins a minute, kept as a bare number: a difference of temperature has no zero.
        value, _ = self._temperature(v[1], v[2], None, v[1][0], False)
        span = self.span(v[0][0], v[3][1])
        low, high = self.number(v[1])
        factor = Fraction(5, 9) if isinstance(value, Temperature) and value.scale == "F" else Fraction(1)
        term = Term(self.span(*v[1]), low * factor, high * factor, None)
        return Feature(span, "heats", self.amount(term), None, plain(span.text))

    def feature_takes(self, v: list[Any]) -> Feature:
        span = self.span(v[0][0], v[2][1])
        raw = plain(self.span(*v[2]).text)
        unit = self.words.unit_of.get(fold(raw))
        term = self.term(v[1], v[2] if unit else None)
        if term.unit == "piece":
            term = term._replace(unit=None)
        return Feature(span, "takes", self.amount(term), None, plain(span.text))

    def feature_size(self, v: list[Any]) -> Feature:
        amount = self.amount(self.term(v[0], v[1]))
        return Feature(amount.span, "size", amount, None, plain(amount.span.text))

    def feature_on(self, v: list[Any]) -> Feature:
        span = self.span(v[0][0], v[1][1])
        return Feature(span, "on", None, None, self.tidy_name(v[1]).text)

    def feature_flag(self, v: list[Any]) -> Feature:
        span = self.span(*v[0])
        return Feature(span, self.words.features[self.folded(v[0])], None, None, plain(span.text))

    def feature_other(self, v: list[Any]) -> Feature:
        name: Name = self.tidy_name(v[0])
        return Feature(name.span, "other", None, None, name.text)
