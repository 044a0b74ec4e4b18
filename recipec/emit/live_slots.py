"""What a dish's page needs to say the same for other plates and other measures: for every place that changes, the exact amount and how
it is shown. `site/scripts/sums.js` reads this; it reckons as `plan.wording` does, and the tests hold it to that.

An amount is a + b × times, where `times` is how many times the dish as written is made: the compiler tells it at one time and at two.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction

from recipec.larder.ingredient import Ingredient
from recipec.measure.exported import Data
from recipec.measure.quantity import Amount, Quantity
from recipec.measure.show import Measures, Style, show_amount
from recipec.model.dish import Flag, GearUse, Use
from recipec.model.reading import Duration, Left, Reading
from recipec.plan.lines import added
from recipec.plan.pieces import gear_name, gear_remark, pieces_wanted
from recipec.plan.readings import reading_piece
from recipec.plan.scale import Scaled, scale
from recipec.plan.wording import Desk, How, bare_name, basis_of, in_number, of_word, part_word

MEASURES: tuple[Measures, ...] = ("as written", "metric", "us")
_PLAIN = How()


def number(value: Fraction) -> Data:
    """A fraction as its shortest text."""
    return int(value) if value.denominator == 1 else str(value)


@dataclass(frozen=True, slots=True)
class Words:
    """The slots of one kind, each once, in the order in which they were met; a code is a place in the list."""

    found: list[Data] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)

    def add(self, slot: Data) -> int:
        """The place of a slot."""
        place = self.places.setdefault(repr(slot), len(self.found))
        if place == len(self.found):
            self.found.append(slot)
        return place


@dataclass(frozen=True, slots=True)
class Slots:
    """Makes the slots of one dish. `amounts`, `gears` and `times` change with the plates, `triples` with the measures alone."""

    desk: Desk
    twice: Scaled
    amounts: Words = field(default_factory=Words)
    gears: Words = field(default_factory=Words)
    times: Words = field(default_factory=Words)
    triples: Words = field(default_factory=Words)

    # ------------------------------------------------------------ amounts

    def plain(self, amount: Amount, noun: tuple[str, ...] = (), by_shown: bool = False) -> int:
        """An amount of nothing in particular, to the letter as written: what is made, what is left, what a dish makes with its `noun` in
        two numbers."""
        how = _PLAIN if noun else self.desk.how(amount, None, (), "")
        slot = _amount(amount, amount.scaled(Fraction(2)), how) | {"w": 1}
        if noun:
            slot["K"] = [*noun, 1] if by_shown else list(noun)
        return self.amounts.add(slot)

    def use(self, use: Use, *, alternative: bool = False) -> int | None:
        """The slot of one mark, or of one choice of it; None where nothing of it ever changes."""
        slot = self._use(use)
        if slot is None:
            return None
        if alternative:
            slot["L"] = [
                " ".join((*_listed(of_word(self.desk.amount(use), self.desk.tongue)), *use.before)),
                self._rest_of_line(use),
            ]
        return self.amounts.add(slot)

    def merged(self, uses: list[Use]) -> int | None:
        """The slot of a line of the merged list; None where nothing of it ever changes."""
        first = uses[0]
        amounts = [one for use in uses if (one := self.desk.scaled.amount(use)) is not None]
        doubled = [two for use in uses if (two := self.twice.amount(use)) is not None]
        if len(uses) == 1 or not amounts:
            return self.use(first)
        about = any(amount.about for amount in amounts)
        total = amounts[0]._replace(terms=(added(amounts),), about=about)
        how = self.desk.how(total, self.desk.item(first), (*first.before, *first.after), first.name, first.part)
        slot = _amount(total, total._replace(terms=(added(doubled),)), how) | {"M": 1}
        self._name(slot, first, total)
        if first.amount is not None:
            slot["r"] = _terms(first.amount, first.amount)
        return self.amounts.add(slot)

    def _use(self, use: Use) -> dict[str, Data] | None:
        first, second = self.desk.scaled.amount(use), self.twice.amount(use)
        if first is None or second is None or use.amount is None:
            return None
        item = self.desk.item(use)
        states = (*use.before, *use.after)
        if first == second and _alike(self.desk, first, item, states, use):
            return None
        slot = _amount(first, second, self.desk.how(first, item, states, use.name, use.part))
        if not use.basis and (use.fraction is None or not use.share):
            slot["w"] = 1
        if first.terms != use.amount.terms:
            slot["r"] = _terms(use.amount, use.amount)
        self._name(slot, use, first)
        single = part_word(use, None)
        if single:
            several = part_word(use, use.amount._replace(terms=(_ones(2, first),)))
            slot["P"] = [
                self.desk.tongue.form(single, word, word != single, context="part") for word in (single, several)
            ]
        return slot

    def _name(self, slot: dict[str, Data], use: Use, amount: Amount) -> None:
        name, item = bare_name(use), self.desk.item(use)
        names = [name]
        was = None if use.amount is None else use.amount.total()
        if was is not None and was.unit.name == "piece":
            other = in_number(name, item, not was.high > 1, self.desk.tongue)
            names += [] if other == name else [other]
        slot["N"] = list(names)
        rest = slot.get("q")
        if isinstance(rest, str) and rest:
            alone = rest.removeprefix("beaten ") if "beaten" in use.before else rest
            of = (rest, None) if use.part else (name, item)
            slot["Q"] = [alone, *(in_number(*of, several, self.desk.tongue) for several in (False, True))]

    def _rest_of_line(self, use: Use) -> str:
        return "".join(f", {word}" for word in (basis_of(use, self.desk.dish, self.desk.style), *use.after) if word)

    # ------------------------------------------------------------ what goes by the measures alone

    def triple(self, words: Iterable[str]) -> int | None:
        """Words as written, metric and US; None where they are all the same."""
        found = list(words)
        return None if len(set(found)) == 1 else self.triples.add(found)

    def by_plate(self, use: Use) -> int | None:
        """`20 g per plate`, at the end of a line."""
        amount = use.amount
        if amount is None or Flag.PER_PLATE not in use.flags:
            return None
        styles = [Style(measures, self.desk.style.language) for measures in MEASURES]
        said = [show_amount(amount, style, written=True).text for style in styles]
        return self.triple(self.desk.tongue.say("%(much)s per plate", much=much) for much in said)

    def by_plate_here(self, use: Use) -> tuple[int | None, int | None]:
        """The same in a step: what stands before the name, and after it."""
        said = [self._in(measures)._amount_of(use) for measures in MEASURES]
        return self.triple(head for head, _ in said), self.triple(
            self.desk.tongue.say("%(much)s per plate", much=tail) for _, tail in said
        )

    def _amount_of(self, use: Use) -> tuple[str, str]:
        if use.amount is None:
            return "", ""
        states = (*use.before, *use.after)
        words = self.desk.say(use.amount, self.desk.item(use), states, use.name, written=True)
        return words.text, words.tail

    def _in(self, measures: Measures) -> Slots:
        return Slots(_in_measures(self.desk, measures), self.twice)

    # ------------------------------------------------------------ gear

    def gear(self, gear: GearUse) -> int | None:
        """What is used up, and what is one for every plate; None for what stays."""
        ones, twos = self.desk, Desk(self.twice, self.desk.larder, self.desk.style)
        remark = gear_remark(gear, ones)
        more = gear_remark(gear, twos).removeprefix(remark).removeprefix(", ")
        if gear.amount is not None:
            slot = _amount(gear.amount, gear.amount.scaled(Fraction(2)), self.desk.how(gear.amount, None, (), ""))
            return self.gears.add(slot | {"N": gear.name, "S": remark})
        grows = pieces_wanted(gear, twos) != pieces_wanted(gear, ones)
        if not grows and not more:
            return None
        name = gear.name if grows else gear_name(gear, ones, article=False)
        found: dict[str, Data] = {"N": name, "S": remark, "R": 1 if grows and more else more}
        if gear.same:
            found["T"] = self.desk.tongue.say("the", context="mark").strip()
        if grows:
            found |= {"C": gear.pieces, "I": in_number(gear.name, None, False, self.desk.tongue)}
        return self.gears.add(found)

    # ------------------------------------------------------------ readings

    def reading(self, reading: Reading) -> ReadingSlots:
        """A reading's slots."""
        value = reading.value
        if isinstance(value, Left):
            return ReadingSlots(None if value.amount is None else self.plain(value.amount), None, None, (), None)
        if isinstance(value, Duration):
            paced = value.pace is not None and value.pace.per == "plate" and self.desk.scaled.plates is not None
            return ReadingSlots(None, None, None, (), self._paced(value) if paced else None)
        pieces = [reading_piece(reading, _in_measures(self.desk, measures)) for measures in MEASURES]
        remarks = zip(*(piece.remarks for piece in pieces), strict=True)
        return ReadingSlots(
            None,
            self.triple(piece.text for piece in pieces),
            self.triple(piece.also for piece in pieces),
            tuple(self.triple(words) for words in remarks),
            None,
        )

    def _paced(self, value: Duration) -> int:
        return self.times.add([number(value.low), number(value.high)])


@dataclass(frozen=True, slots=True)
class ReadingSlots:
    """`amount` of what is left, `text`, `also` and `remarks` by the measures, `pace` of a time for each plate."""

    amount: int | None
    text: int | None
    also: int | None
    remarks: tuple[int | None, ...]
    pace: int | None


def slots_for(desk: Desk) -> Slots:
    """Slots of the dish on the desk, which is made once."""
    return Slots(desk, scale(desk.dish, Fraction(2)))


def _in_measures(desk: Desk, measures: Measures) -> Desk:
    return Desk(desk.scaled, desk.larder, Style(measures, desk.style.language))


def _alike(desk: Desk, amount: Amount, item: Ingredient | None, states: tuple[str, ...], use: Use) -> bool:
    written = amount == use.amount and not use.basis and (use.fraction is None or not use.share)
    said = [_in_measures(desk, m).say(amount, item, states, use.name, written, use.part) for m in MEASURES]
    return len({(words.text, words.tail) for words in said}) == 1


def _amount(first: Amount, second: Amount, how: How) -> dict[str, Data]:
    slot: dict[str, Data] = {"t": _terms(first, second)}
    if first.about:
        slot["a"] = 1
    if first.each is not None:
        slot["e"] = [number(first.each.low), number(first.each.high), first.each.unit.name]
    if first.size:
        slot["z"] = first.size
    for key, flag in (("d", how.down), ("x", how.strict), ("o", how.solid), ("u", how.uncut)):
        if flag:
            slot[key] = 1
    for key, much in (("n", how.density), ("k", how.each)):
        if much:
            slot[key] = number(much)
    if how.rest:
        slot["q"] = how.rest
    return slot


def _terms(first: Amount, second: Amount) -> list[Data]:
    return [_term(one, two) for one, two in zip(first.terms, second.terms, strict=True)]


def _term(one: Quantity, two: Quantity) -> list[Data]:
    low, high = two.low - one.low, two.high - one.high
    start, end = one.low - low, one.high - high
    if one.is_range:
        return [one.unit.name, number(start), number(low), number(end), number(high)]
    return [one.unit.name, number(start), number(low)] if start else [one.unit.name, number(low)]


def _ones(many: int, like: Amount) -> Quantity:
    return Quantity(Fraction(many), Fraction(many), like.terms[0].unit)


def _listed(word: str) -> tuple[str, ...]:
    return (word,) if word else ()
