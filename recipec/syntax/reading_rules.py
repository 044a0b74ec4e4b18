"""Handlers of the rules for gear marks and readings."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, Literal, NamedTuple

from recipec.base.span import Span
from recipec.syntax.builder import Base, Token, new, plain
from recipec.syntax.tree import (
    AfterCourse,
    Amount,
    Clock,
    Duration,
    Extent,
    Gear,
    Left,
    Name,
    Reading,
    Recovers,
    Takes,
    Temperature,
    Term,
    Touch,
    Treatment,
    Value,
)
from recipec.syntax.words import fold

_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_DAY = 24 * 60
_SLIMMEST = 4
"""How many times as long as wide a tin may be: past that the first number counts tins. Our own rule of thumb."""


class Tool(NamedTuple):
    """A gear mark before its details are known."""

    name: Name
    article: Literal["", "the", "our"] = ""
    amount: Amount | None = None
    size: Treatment | None = None


class Stretch(NamedTuple):
    """A time as it is being read: offsets, and seconds at both ends."""

    start: int
    end: int
    low: Fraction
    high: Fraction
    times: int = 1
    about: bool = False


class ReadingRules(Base):
    """Gear marks and readings."""

    # ------------------------------------------------------------ gear

    def _gear(self, tool: Tool, traits: list[Any]) -> Gear:
        details = (tool.size, *traits) if tool.size else tuple(traits)
        start, end = self.mark
        return new(Gear, (new(Span, (self.source, start, end)), tool.article, tool.amount, tool.name, details))

    def gear_bare(self, v: list[Any]) -> Gear:
        return self._gear(v[0], [])

    def gear_traits(self, v: list[Any]) -> Gear:
        return self._gear(v[0], v[1])

    def tool_bare(self, v: list[Any]) -> Tool:
        return new(Tool, (self.name(v[0]), "", None, None))

    def tool_the(self, v: list[Any]) -> Tool:
        return Tool(self.name(v[1]), "the")

    def tool_our(self, v: list[Any]) -> Tool:
        return Tool(self.name(v[1]), "our")

    def tool_count(self, v: list[Any]) -> Tool:
        if self.folded(v[0]) in self.words.articles:
            return Tool(self.name(v[1]))
        return Tool(self.name(v[1]), amount=self.amount(self.term(v[0], None)))

    def tool_nameless(self, v: list[Any]) -> Tool:
        if self.words.kind_of[self.unit(v[1])] != "counted":
            shown = plain(self.span(v[0][0], v[1][1]).text)
            self.note("empty-mark", *self.mark, f"`{shown}` of what?", f"Write the name after it: `{{{shown} ice}}`.")
            self.broken = True
        return Tool(self.tidy_name(v[1]), amount=self.amount(self.term(v[0], None)))

    def tool_measured(self, v: list[Any]) -> Tool:
        term = self.term(v[0], v[1])
        if self.words.kind_of[term.unit or ""] == "length":
            # `{28 cm frying pan}`: one pan of that size, not 28 cm of pan.
            return Tool(self.name(v[-1]), size=Treatment(term.span, plain(term.span.text)))
        return Tool(self.name(v[-1]), amount=self.amount(term))

    def tool_times(self, v: list[Any]) -> Tool:
        count, size = self.term(v[0], None), self.term(v[2], v[3])
        if self.words.kind_of[size.unit or ""] == "length" and count.high * _SLIMMEST > size.high:
            # `{9 x 13 inch tin}`: one tin, both its sides; `{2 x 20 cm tins}` are two, since no tin is so long and slim.
            both = self.span(count.span.start, size.span.end)
            return Tool(self.name(v[4]), size=Treatment(both, plain(both.text)))
        return Tool(self.name(v[4]), amount=self.amount(count), size=Treatment(size.span, plain(size.span.text)))

    def tool_sized(self, v: list[Any]) -> Tool:
        size = self.span(v[1][0], v[2][1])
        return Tool(self.name(v[3]), size=Treatment(size, plain(size.text)))

    def traits_one(self, v: list[Any]) -> list[Any]:
        return v

    def traits_more(self, v: list[Any]) -> list[Any]:
        v[0].append(v[1])
        return v[0]  # type: ignore[no-any-return]

    def trait_takes(self, v: list[Any]) -> Takes:
        term = self.term(v[2], v[3])
        if term.unit == "piece":
            term = term._replace(unit=None)
        return Takes(self.span(v[1][0], v[3][1]), self.amount(term))

    def trait_takes_things(self, v: list[Any]) -> Takes:
        return Takes(self.span(v[1][0], v[-1][1]), self.amount(self.term(v[2], None)))

    def trait_recovers(self, v: list[Any]) -> Recovers:
        return Recovers(self.span(v[1][0], v[3][1]), self.duration(v[2], v[3])[1])

    # ------------------------------------------------------------ readings

    def reading_bare(self, v: list[Any]) -> Reading | None:
        return self._reading(v[0], [])

    def reading_tails(self, v: list[Any]) -> Reading | None:
        return self._reading(v[0], v[1])

    def _reading(self, made: tuple[Value, str] | None, tails: list[Any]) -> Reading | None:
        if made is None:
            return None
        value, attention = made
        touches: list[Touch] = []
        cue: str | None = None
        for tail in tails:
            if type(tail) is str:
                if not attention and tail in self.words.attention:
                    attention = self.words.attention[tail]
                else:
                    cue = tail
            elif isinstance(tail, Touch):
                touches.append(tail)
            elif isinstance(value, Temperature):
                value = value._replace(rises_to=tail)
        start, end = self.mark
        return new(Reading, (new(Span, (self.source, start, end)), value, attention, tuple(touches), cue))

    def reading_until(self, v: list[Any]) -> Reading:
        span = self.span(*v[0])
        value = Duration(span, Fraction(0), Fraction(0), assumed=True)
        return Reading(Span(self.source, *self.mark), value, "", (), plain(span.text))

    def reading_overnight(self, v: list[Any]) -> Reading:
        span = self.span(*v[0])
        self.note(
            "bad-reading", span.start, span.end, "No clock shows `overnight`.", "Write how long: `<12 h>`.",
            fixes=(("12 h", "write `12 h`"),),
        )  # fmt: skip
        hours = Fraction(12 * 3600)
        return Reading(Span(self.source, *self.mark), Duration(span, hours, hours, about=True), "alone", (), None)

    # each value is paired with the attention word that stood in it

    def _duration(self, lasts: Stretch, end: int, pace: Term | None, side: bool) -> Duration:
        start, _, low, high, times, about = lasts
        span = self.span(start, end)
        return new(Duration, (span, low, high, 2 if side else times, pace, side, about, False))

    def value_duration(self, v: list[Any]) -> tuple[Value, str]:
        attention = self.words.attention[self.folded(v[1])] if len(v) > 1 else ""
        return self._duration(v[0], v[0].end, None, False), attention

    def value_paced(self, v: list[Any]) -> tuple[Value, str]:
        pace, side, end = v[1]
        attention = self.words.attention[self.folded(v[2])] if len(v) > 2 else ""
        return self._duration(v[0], end, pace, side), attention

    def value_after(self, v: list[Any]) -> tuple[Value, str]:
        name = self.tidy_name(v[2])
        return AfterCourse(Span(self.source, v[0].start, name.span.end), v[0].high, name), ""

    def pace_side(self, v: list[Any]) -> tuple[Term | None, bool, int]:
        return None, True, v[0][1]

    def pace_unit(self, v: list[Any]) -> tuple[Term | None, bool, int]:
        return Term(self.span(*v[1]), Fraction(1), Fraction(1), self.unit(v[1])), False, v[1][1]

    def pace_amount(self, v: list[Any]) -> tuple[Term | None, bool, int]:
        return self.term(v[1], v[2]), False, v[2][1]

    def pace_each(self, v: list[Any]) -> tuple[Term | None, bool, int]:
        return Term(self.span(*v[0]), Fraction(1), Fraction(1), "piece"), False, v[0][1]

    def lasts_about(self, v: list[Any]) -> Stretch:
        return v[1]._replace(start=v[0][0], about=True)  # type: ignore[no-any-return]

    def lasts_range(self, v: list[Any]) -> Stretch:
        low, high = v[0], v[2]
        if high.high < low.low:
            self.note("bad-number", low.start, high.end, "This range runs down.", "Write the shorter time first.")
            low, high = high, low
        return Stretch(v[0].start, v[2].end, low.low, high.high)

    def lasts_times(self, v: list[Any]) -> Stretch:
        times = self.number(v[0])[1]
        if times.denominator != 1 or not 1 <= times <= 1000:
            self.note("bad-reading", v[0][0], v[0][1], "How many times must be a whole number.", "Write `<2 x 5 min>`.")
            times = Fraction(1)
        return v[2]._replace(start=v[0][0], times=int(times))  # type: ignore[no-any-return]

    def span_one(self, v: list[Any]) -> Stretch:
        low, high = self.duration(v[0], v[1])
        return new(Stretch, (v[0][0], v[1][1], low, high, 1, False))

    def span_more(self, v: list[Any]) -> Stretch:
        low, high = self.duration(v[1], v[2])
        return Stretch(v[0].start, v[2][1], v[0].low + low, v[0].high + high)

    def span_up_to(self, v: list[Any]) -> Stretch:
        return self.span_one(v[1:])._replace(start=v[0][0])

    def span_minutes(self, v: list[Any]) -> Stretch:
        low, high = self.number(v[1])
        return Stretch(v[0].start, v[1][1], v[0].low + low * 60, v[0].high + high * 60)

    def _temperature(
        self, number: Token, unit: Token, heat: Token | None, start: int, about: bool
    ) -> tuple[Value, str]:
        low, high = self.number(number, unit=True)
        word = self.text[unit[0] : unit[1]].strip().lstrip("°º˚ ").lower()
        scale = self.words.temperature.get(word) or self.words.temperature[word[-1:]]
        kind = self.words.heat[self.folded(heat)] if heat else ""
        span = self.span(start, (heat or unit)[1])
        return new(Temperature, (span, low, high, scale, kind, None, about)), ""

    def value_temperature(self, v: list[Any]) -> tuple[Value, str]:
        return self._temperature(v[0], v[1], v[2] if len(v) > 2 else None, v[0][0], False)

    def value_temperature_about(self, v: list[Any]) -> tuple[Value, str]:
        return self._temperature(v[1], v[2], v[3] if len(v) > 3 else None, v[0][0], True)

    def value_gas(self, v: list[Any]) -> tuple[Value, str]:
        low, high = self.number(v[1])
        return Temperature(self.span(v[0][0], v[1][1]), low, high, "gas", ""), ""

    def value_extent(self, v: list[Any]) -> tuple[Value, str]:
        term = self.term(v[0], v[1])
        shape = plain(self.span(*v[2]).text) if len(v) > 2 else None
        return Extent(self.span(v[0][0], v[-1][1]), term, shape), ""

    def value_extent_both(self, v: list[Any]) -> tuple[Value, str]:
        # `20 x 30 cm`: the longer side is what a kitchen must have room for; the shape says both, as they were written.
        unit = v[3]
        one, other = self.term(v[0], unit), self.term(v[2], unit)
        span = self.span(v[0][0], unit[1])
        long = one if one.high > other.high else other
        return Extent(span, long._replace(span=span), plain(span.text)), ""

    def value_left(self, v: list[Any]) -> tuple[Value, str]:
        amount = self.amount(self.term(v[0], v[1]))
        return Left(amount.span, amount, None), ""

    def value_left_about(self, v: list[Any]) -> tuple[Value, str]:
        amount = self.amount(self.term(v[1], v[2]), about=True)
        return Left(self.span(v[0][0], v[2][1]), amount, None), ""

    def _left(self, v: list[Any], gone: Fraction) -> tuple[Value, str] | None:
        span = self.span(v[0][0], v[1][1])
        if not 0 < gone < 1:
            self.note(
                "bad-reading", span.start, span.end, "Nothing would be left.", "Write what boils away: `<by half>`."
            )
            return None
        return Left(span, None, 1 - gone), ""

    def value_by(self, v: list[Any]) -> tuple[Value, str] | None:
        return self._left(v, self.words.shares[self.folded(v[1])])

    def value_by_number(self, v: list[Any]) -> tuple[Value, str] | None:
        return self._left(v, self.number(v[1])[0])

    def value_by_percent(self, v: list[Any]) -> tuple[Value, str] | None:
        digits = re.match(r"[0-9.]+", self.text[v[1][0] : v[1][1]])
        return self._left(v, self.number((v[1][0], v[1][0] + (digits.end() if digits else 1)))[0] / 100)

    def clock(self, token: Token) -> tuple[int, int | None] | None:
        """Minutes from midnight at both ends of `19:30` or `18:30-19:15`; None, with a finding, past the day."""
        ends = []
        for hour, minute in _CLOCK.findall(self.text[token[0] : token[1]]):
            if int(hour) * 60 + int(minute) > _DAY or int(minute) > 59:
                span = self.span(*token)
                self.note("bad-reading", span.start, span.end, f"`{span.text}` is no time of day.", "Write `19:30`.")
                return None
            ends.append(int(hour) * 60 + int(minute))
        return ends[0], ends[1] if len(ends) > 1 else None

    def value_clock(self, v: list[Any]) -> tuple[Value, str] | None:
        times = self.clock(v[0])
        return None if times is None else (Clock(self.span(*v[0]), *times), "")

    # ------------------------------------------------------------ what follows the comma

    def tails_one(self, v: list[Any]) -> list[Any]:
        return v

    def tails_more(self, v: list[Any]) -> list[Any]:
        v[0].append(v[1])
        return v[0]  # type: ignore[no-any-return]

    def _touch(self, v: list[Any], every: bool) -> Touch:
        _, (start, end), moment = v
        word = (self.words.marks["every"] if every else self.words.marks["at"])[0]
        verb = plain(self.text[start:end].strip())
        return Touch(self.span(start, moment.end), verb[: -len(word)].rstrip(), moment.high, every)

    def tail_at(self, v: list[Any]) -> Touch:
        return self._touch(v, False)

    def tail_every(self, v: list[Any]) -> Touch:
        return self._touch(v, True)

    def tail_rises(self, v: list[Any]) -> Fraction:
        return self.number(v[2])[1]

    def tail_cue(self, v: list[Any]) -> str:
        return plain(self.span(*v[1]).text)

    def tail_until(self, v: list[Any]) -> str:
        said = plain(self.span(*v[0]).text)
        for word in self.words.marks["or"]:
            if fold(said).startswith(word + " "):
                return said[len(word) :].lstrip()
        return said
