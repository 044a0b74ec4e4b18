"""Handlers of the rules for food marks: one method for each alias of `grammar/recipec.lark`."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import Any, Literal, NamedTuple

from recipec.base.finding import Fix
from recipec.base.span import Span
from recipec.base.suggest import distance, nearest
from recipec.syntax.builder import Base, Token, new, plain
from recipec.syntax.tree import (
    Amount,
    Detail,
    Each,
    Flag,
    Food,
    FoodItem,
    ForSeats,
    Name,
    Part,
    Percent,
    Rate,
    Share,
    Term,
    Treatment,
    Without,
)
from recipec.syntax.words import fold

Article = Literal["", "the", "our"]
_SPOONS = ("mass", "volume", "vague")
_DIGITS = re.compile(r"[0-9]+")
_PERCENT = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_AMOUNT_ALONE = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s?([^\W\d_]+)")
_AMOUNT_AFTER = re.compile(r"\s+([0-9]+(?:[.,][0-9]+)?\s?[^\W\d_]+)\Z")
_OF_NUMBER = re.compile(r"\sof\s+(?:[0-9]|half an?\s)")
_MIDDLE = " of "


class Thing(NamedTuple):
    """A food item before its details are known."""

    start: int
    end: int
    name: Name | None
    article: Article = ""
    amount: Amount | None = None
    share: Share | None = None
    part: Part | None = None
    plus: FoodItem | None = None


class FoodRules(Base):
    """Food marks."""

    def food_one(self, v: list[Any]) -> Food:
        start, end = self.mark
        return new(Food, (new(Span, (self.source, start, end)), (v[0],)))

    def food_more(self, v: list[Any]) -> Food:
        food: Food = v[0]
        return Food(food.span, (*food.choices, v[2]))

    # ------------------------------------------------------------ items

    def _item(
        self, thing: Thing, end: int, details: tuple[Detail, ...], per_plate: bool, plus: FoodItem | None
    ) -> FoodItem:
        start, last, name, article, amount, share, part, own_plus = thing
        if self.gloss and plus is None:
            details = (*self.gloss, *details)
            self.gloss = []
        if name is None:
            name = Name(Span(self.source, start, last), "")
            self.broken = True
        span = new(Span, (self.source, start, end))
        return new(FoodItem, (span, article, amount, share, part, name, details, per_plate, plus or own_plus))

    def item_bare(self, v: list[Any]) -> FoodItem:
        return self._item(v[0], v[0].end, (), False, None)

    def item_treated(self, v: list[Any]) -> FoodItem:
        thing, details = v
        if thing.amount is None and thing.share is None and thing.article == "":
            for detail in details:
                if type(detail) is Treatment and detail.text[:1].isdigit() and _AMOUNT_ALONE.fullmatch(detail.text):
                    thing = self._late(thing, detail.span.start, detail.span.end, thing.end)
        return self._item(thing, details[-1].span.end, tuple(details), False, None)

    def _late(self, thing: Thing, start: int, end: int, name_end: int) -> Thing:
        """`[butter, 200 g]`, `[butter 200 g]`: an amount after the name, if it is one, moved where it belongs."""
        found = _AMOUNT_ALONE.fullmatch(self.text, start, end)
        unit = self.words.unit_of.get(found[2]) if found else None
        if found is None or unit is None or self.words.kind_of[unit] not in ("mass", "volume"):
            return thing
        name = self.name((thing.start, name_end))
        better = f"{plain(found[0])} {name.text}"
        span = Span(self.source, thing.start, end)
        self.note(
            "unreadable-mark", start, end, "The amount comes before the name.", f"Write `[{better}]`.",
        )  # fmt: skip
        self.findings[-1] = replace(self.findings[-1], fixes=(Fix(span, better, "put the amount first"),))
        amount = self.amount(self.term(found.span(1), found.span(2)))
        return thing._replace(name=name, amount=amount)

    def item_per_plate(self, v: list[Any]) -> FoodItem:
        details = tuple(v[2]) if len(v) > 2 else ()
        end = details[-1].span.end if details else v[1][1]
        return self._item(v[0], end, details, True, None)

    def item_plus(self, v: list[Any]) -> FoodItem:
        second = self._item(v[2], v[2].end, (), False, None)
        details = tuple(v[3]) if len(v) > 3 else ()
        return self._item(v[0], details[-1].span.end if details else v[2].end, details, False, second)

    def item_plus_amount(self, v: list[Any]) -> FoodItem:
        # `1 cup flour plus 2 tbsp`: more of the same thing.
        thing, more = v[0], v[2]
        details = tuple(v[3]) if len(v) > 3 else ()
        if thing.amount is None:
            self.note(
                "unreadable-mark", more.span.start, more.span.end, "It is not clear what this amount is more of.",
                "Write the amount before the name: `[1 cup plus 2 tbsp flour]`.",
            )  # fmt: skip
        else:
            total = Amount(
                thing.amount.span.to(more.span), thing.amount.terms + more.terms, thing.amount.about or more.about
            )
            thing = thing._replace(amount=total)
        return self._item(thing, details[-1].span.end if details else more.span.end, details, False, None)

    def item_nameless(self, v: list[Any]) -> FoodItem:
        amount: Amount = v[0]
        details = tuple(v[1]) if len(v) > 1 else ()
        end = details[-1].span.end if details else amount.span.end
        last = amount.terms[-1]
        counted = last.unit is not None and self.words.kind_of[last.unit] == "counted"
        if not counted or amount.each is not None:
            shown = plain(amount.span.text)
            like = "flour" if last.unit else "eggs"
            if details and type(details[0]) is Treatment:
                like = details[0].text
            hint = f"Write the name after the amount: `[{shown} {like}]`."
            self.note("empty-mark", *self.mark, f"`{shown}` of what?", hint)
            return self._item(Thing(amount.span.start, end, None, amount=amount), end, details, False, None)
        # `[3 cloves]`: with no name after it a countable unit is the thing itself.
        word = re.search(r"\S+\Z", last.span.text)
        start = last.span.end - (len(word[0]) if word else 0)
        term = Term(self.span(last.span.start, start), last.low, last.high, None, last.size)
        whole = Amount(self.span(amount.span.start, start), (*amount.terms[:-1], term), amount.about)
        return self._item(
            Thing(amount.span.start, end, self.name((start, last.span.end)), amount=whole), end, details, False, None
        )

    # ------------------------------------------------------------ things

    def thing_bare(self, v: list[Any]) -> Thing:
        ((start, end),) = v
        name = self._checked(v[0])
        thing = Thing(start, end, name)
        if name.text[-1:].isalpha():
            late = _AMOUNT_AFTER.search(self.text, start, end)
            if late:
                return self._late(thing, *late.span(1), late.start())
        return thing

    def thing_the(self, v: list[Any]) -> Thing:
        return Thing(v[0][0], v[1][1], self.name(v[1]), "the")

    def thing_our(self, v: list[Any]) -> Thing:
        return Thing(v[0][0], v[1][1], self.name(v[1]), "our")

    def thing_little(self, v: list[Any]) -> Thing:
        return Thing(v[0][0], v[1][1], self.name(v[1]))

    def thing_amount(self, v: list[Any]) -> Thing:
        amount, token = v
        last = amount.terms[-1]
        if last.unit is None and amount.each is None and last.size is None:
            amount, token = self._refused(amount, token)
        return new(Thing, (amount.span.start, token[1], self._checked(token), "", amount, None, None, None))

    def thing_amount_of(self, v: list[Any]) -> Thing:
        return Thing(v[0].span.start, v[2][1], self._checked(v[2]), "", v[0])

    def thing_amount_our(self, v: list[Any]) -> Thing:
        return Thing(v[0].span.start, v[2][1], self.name(v[2]), "our", v[0])

    def thing_share_amount(self, v: list[Any]) -> Thing:
        amount: Amount = v[0]
        first = amount.terms[0]
        words = self.text[amount.span.start : v[1][1]].rstrip()
        span = self.span(amount.span.start, v[1][1])
        plain_number = len(amount.terms) == 1 and first.unit is None and amount.each is None and first.size is None
        if plain_number and first.low == first.high and first.high < 1:
            share = Share(span, "fraction", first.high, None, plain(words))
        else:
            share = Share(span, "amount", None, amount, plain(words))
        return Thing(amount.span.start, v[2][1], self.name(v[2]), "the", None, share)

    def thing_share(self, v: list[Any]) -> Thing:
        start, end = v[0]
        span = self.span(start, end)
        said = fold(span.text)
        article: Article = "the"
        for word in ("the", "our"):
            for ending in self.words.marks[word]:
                if said.endswith(" " + ending):
                    said = said[: -len(ending) - 1]
                    article = "our" if word == "our" else "the"
        for of in self.words.marks["of"]:
            bare = said[: -len(of) - 1] if said.endswith(" " + of) else said
            fraction = self.words.shares.get(bare)
            if fraction is not None:
                share = Share(span, "fraction", fraction, None, plain(span.text))
                break
        else:
            if said in self.words.share_rest or f"{said} {self.words.marks['of'][0]}" in self.words.share_rest:
                share = Share(span, "rest", None, None, plain(span.text))
            elif said[0].isdigit():
                digits = _PERCENT.match(said)
                value = self._percent((start, start + (digits.end() if digits else 1)))
                share = Share(span, "fraction", value / 100, None, plain(span.text))
            else:
                share = Share(span, "unmeasured", None, None, plain(span.text))
        return Thing(start, v[1][1], self.name(v[1]), article, None, share)

    def thing_part(self, v: list[Any]) -> Thing:
        (start, end), thing = v
        of = fold(self.text[start:end])
        keys = [self.words.parts[word] for word in of.split() if word in self.words.parts]
        span = self.span(start, end)
        before = self._before_part(start, end)
        if before:
            self.gloss.append(before)
        thing = thing._replace(start=start, part=Part(span, keys[0]))
        if len(keys) > 1 and thing.plus is None:
            # `zest and juice of 1 lemon`: both parts of the same pieces.
            other = self._item(thing._replace(part=Part(span, keys[1])), thing.end, (), False, None)
            thing = thing._replace(plus=other)
        return thing  # type: ignore[no-any-return]

    def _before_part(self, start: int, end: int) -> Treatment | None:
        """`finely grated zest of 1 lemon`: what was done to the part."""
        first, last = start, start
        for word in re.compile(r"[^\s,]+").finditer(self.text, start, end):
            said = word[0].lower()
            if said in self.words.parts:
                break
            if said in self.words.marks["the"]:
                first = word.end() + 1
            else:
                last = word.end()
        return Treatment(Span(self.source, first, last), plain(self.text[first:last])) if last > first else None

    def _checked(self, token: Token) -> Name:
        name = self.name(token)
        text = name.text
        if _MIDDLE in text and _OF_NUMBER.search(text):
            self.note(
                "unreadable-mark", *token, f"A number stands in the middle of the name `{name.text}`.",
                "Write the part first, as in `[zest of 1 lemon]`, and how it is treated after a comma.",
            )  # fmt: skip
        elif text.startswith("each "):
            both = text[5:].replace(" and ", "`, `")
            self.note(
                "unreadable-mark", *token, "Each thing needs a mark of its own.", f"Write one mark for each of `{both}`.",
            )  # fmt: skip
        return name

    def _refused(self, amount: Amount, token: Token) -> tuple[Amount, Token]:
        """`[1 T butter]`, `[200 gr flour]`: words that are no units though they were meant as such."""
        start, end = token
        raw = self.text[start:end]
        word, space, _ = raw.partition(" ")
        if not space:
            return amount, token
        meant = self.words.refused_units.get(word.rstrip(".")) or self._misspelt(word)
        if meant is None:
            return amount, token
        self.note(
            "unknown-unit", start, start + len(word), f"`{word}` is not a unit.", f"Write `{meant}`.",
            fixes=((meant, f"write `{meant}`"),),
        )  # fmt: skip
        term = amount.terms[-1]
        term = Term(
            Span(self.source, term.span.start, start + len(word)), term.low, term.high, self.words.unit_of[meant]
        )
        after = len(raw) - len(raw[len(word) :].lstrip())
        return self.amount(*amount.terms[:-1], term, about=amount.about), (start + after, end)

    def _misspelt(self, word: str) -> str | None:
        # Short words are too near to foods (pint and mint, clove and clover): only long names of measures are guessed at.
        if not 6 <= len(word) <= 16 or not word.isalpha():
            return None
        known = [
            w
            for w, key in self.words.unit_of.items()
            if len(w) >= 6 and w.islower() and self.words.kind_of[key] in _SPOONS
        ]
        near = nearest(word, known, most=1)
        allowed = 2 if len(word) > 8 else 1
        return near[0] if near and distance(word.lower(), near[0], allowed) <= allowed else None

    # ------------------------------------------------------------ amounts

    def amount_one(self, v: list[Any]) -> Amount:
        term: Term = v[0]
        return new(Amount, (term[0], (term,), self._loose(term), None))

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
        return Amount(v[0].span.to(v[2].span), (*v[0].terms, v[2]), v[0].about)

    def amount_and(self, v: list[Any]) -> Amount:
        # `1 lb 2 oz`: two measures of one kind, said in one breath.
        first, second = v
        kinds = {self.words.kind_of.get(term.unit or "") for term in (*first.terms, second)}
        if kinds not in ({"mass"}, {"volume"}):
            shown = self.text[second.span.start : second.span.end]
            self.note(
                "unreadable-mark", second.span.start, second.span.end, f"A second amount, `{shown}`, stands here.",
                "What one pack holds goes in round brackets: `[1 tin (400 g) tomatoes]`; two amounts are joined with `plus`.",
            )  # fmt: skip
            self.broken = True
        return Amount(first.span.to(second.span), (*first.terms, second), first.about)

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
        span = Span(self.source, start, end)
        key = self.words.flags.get(text) or self.words.flags.get(text.lower())
        if key is not None:
            return Flag(span, key)  # type: ignore[arg-type]
        return Treatment(span, text)

    def detail_treatment(self, v: list[Any]) -> Treatment | Flag:
        return self._words(*v[1])

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
        found = _PERCENT.match(self.text, start, end)
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
