"""Handlers of the rules for food marks: one method for each alias of `grammar/recipec.lark`."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Any, Literal

from recipec.base.finding import Fix
from recipec.base.span import Span
from recipec.base.suggest import distance, nearest
from recipec.syntax.amount_rules import PERCENT, AmountRules
from recipec.syntax.builder import Token, new, plain
from recipec.syntax.tree import (
    Amount,
    Detail,
    FoodItem,
    Name,
    Part,
    Share,
    Term,
    Treatment,
)
from recipec.syntax.words import fold

Article = Literal["", "the", "our"]
_AMOUNT_ALONE = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s?([^\W\d_]+)")
_AMOUNT_AFTER = re.compile(r"\s+([0-9]+(?:[.,][0-9]+)?\s?[^\W\d_]+)\Z")
_OF_NUMBER = re.compile(r"\sof\s+(?:[0-9]|half an?\s)")
_MIDDLE = " of "
_ODD_REST = re.compile(
    r"(?P<groups>['’]?[0-9]{3}(?:[\s'’][0-9]{3}){0,3})(?=\s)|[eE]\+?(?P<power>[0-9]{1,2})(?=\s)|\.(?=\s)"
)
_WORD = re.compile(r"\s*([^\W\d_]+)")


class FoodRules(AmountRules):
    """Food marks."""

    def choices_one(self, v: list[Any]) -> list[FoodItem]:
        return v

    def choices_more(self, v: list[Any]) -> list[FoodItem]:
        v[0].append(v[2])
        return v[0]  # type: ignore[no-any-return]

    # ------------------------------------------------------------ items

    def _thing(
        self,
        start: int,
        name: Name,
        article: Article = "",
        amount: Amount | None = None,
        share: Share | None = None,
        part: Part | None = None,
    ) -> FoodItem:
        details: tuple[Detail, ...] = ()
        if self.gloss:
            details = tuple(self.gloss)
            self.gloss = []
        span = new(Span, (self.source, start, name.span.end))
        return new(FoodItem, (span, article, amount, share, part, name, details, False, None))

    def _widened(self, item: FoodItem, end: int, details: Iterable[Detail] = (), **changes: Any) -> FoodItem:
        span = new(Span, (self.source, item.span.start, end))
        return item._replace(span=span, details=(*item.details, *details), **changes)

    def item_treated(self, v: list[Any]) -> FoodItem:
        item, details = v
        if item.amount is None and item.share is None and item.article == "":
            for detail in details:
                if type(detail) is Treatment and detail.text[:1].isdigit() and item.amount is None:
                    item = self._late(item, detail.span.start, detail.span.end, item.span.end)
        span, article, amount, share, part, name, before, per_plate, plus = item
        span = new(Span, (self.source, span.start, details[-1].span.end))
        return new(FoodItem, (span, article, amount, share, part, name, (*before, *details), per_plate, plus))

    def _late(self, item: FoodItem, start: int, end: int, name_end: int) -> FoodItem:
        """`[butter, 200 g]`, `[butter 200 g]`: an amount after the name, if it is one, moved where it belongs."""
        found = _AMOUNT_ALONE.fullmatch(self.text, start, end)
        unit = self.words.unit_of.get(found[2]) if found else None
        if found is None or unit is None or self.words.kind_of[unit] not in ("mass", "volume"):
            return item
        name = self.name((item.span.start, name_end))
        better = f"{plain(found[0])} {name.text}"
        fix = Fix(Span(self.source, item.span.start, end), better, "put the amount first")
        self.note(
            "unreadable-mark", start, end, "The amount comes before the name.", f"Write `[{better}]`.", elsewhere=(fix,)
        )
        amount = self.amount(self.term(found.span(1), found.span(2)))
        return item._replace(name=name, amount=amount)

    def item_per_plate(self, v: list[Any]) -> FoodItem:
        details = v[2] if len(v) > 2 else []
        return self._widened(v[0], details[-1].span.end if details else v[1][1], details, per_plate=True)

    def item_plus(self, v: list[Any]) -> FoodItem:
        details = v[3] if len(v) > 3 else []
        return self._widened(v[0], details[-1].span.end if details else v[2].span.end, details, plus=v[2])

    def item_plus_amount(self, v: list[Any]) -> FoodItem:
        # `1 cup flour plus 2 tbsp`: more of the same thing.
        item, more = v[0], v[2]
        details = v[3] if len(v) > 3 else []
        amount: Amount | None = item.amount
        if amount is None:
            self.note(
                "unreadable-mark", more.span.start, more.span.end, "It is not clear what this amount is more of.",
                "Write the amount before the name: `[1 cup plus 2 tbsp flour]`.",
            )  # fmt: skip
        else:
            amount = Amount(amount.span.to(more.span), amount.terms + more.terms, amount.about or more.about)
        return self._widened(item, details[-1].span.end if details else more.span.end, details, amount=amount)

    def item_nameless(self, v: list[Any]) -> FoodItem:
        amount: Amount = v[0]
        details = tuple(v[1]) if len(v) > 1 else ()
        end = details[-1].span.end if details else amount.span.end
        span = Span(self.source, amount.span.start, end)
        last = amount.terms[-1]
        counted = last.unit is not None and self.words.kind_of[last.unit] == "counted"
        if not counted or amount.each is not None:
            shown = plain(amount.span.text)
            like = "flour" if last.unit else "eggs"
            if details and type(details[0]) is Treatment:
                like = details[0].text
            hint = f"Write the name after the amount: `[{shown} {like}]`."
            self.note("empty-mark", *self.mark, f"`{shown}` of what?", hint)
            self.broken = True
            return FoodItem(span, "", amount, None, None, Name(span, ""), details)
        # `[3 cloves]`: with no name after it a countable unit is the thing itself.
        word = re.search(r"\S+\Z", last.span.text)
        start = last.span.end - (len(word[0]) if word else 0)
        term = Term(self.span(last.span.start, start), last.low, last.high, None, last.size)
        whole = Amount(self.span(amount.span.start, start), (*amount.terms[:-1], term), amount.about)
        return FoodItem(span, "", whole, None, None, self.name((start, last.span.end)), details)

    def item_nameless_plate(self, v: list[Any]) -> FoodItem:
        item = self.item_nameless([v[0], *v[2:]])
        return self._widened(item, max(item.span.end, v[1][1]), per_plate=True)

    # ------------------------------------------------------------ things

    def thing_bare(self, v: list[Any]) -> FoodItem:
        ((start, end),) = v
        name = self._checked(v[0])
        item = self._thing(start, name)
        if name.text[-1:].isalpha():
            late = _AMOUNT_AFTER.search(self.text, start, end)
            if late:
                return self._late(item, *late.span(1), late.start())
        return item

    def thing_the(self, v: list[Any]) -> FoodItem:
        return self._thing(v[0][0], self.name(v[1]), "the")

    def thing_our(self, v: list[Any]) -> FoodItem:
        return self._thing(v[0][0], self.name(v[1]), "our")

    def thing_little(self, v: list[Any]) -> FoodItem:
        return self._thing(v[0][0], self.name(v[1]))

    def thing_amount(self, v: list[Any]) -> FoodItem:
        amount, token = v
        last = amount.terms[-1]
        if last.unit is None and amount.each is None and last.size is None:
            amount, token = self._refused(amount, token)
        return self._thing(amount.span.start, self._checked(token), "", amount)

    def thing_amount_of(self, v: list[Any]) -> FoodItem:
        amount: Amount = v[0]
        last = amount.terms[-1]
        if last.unit is None and amount.each is None and last.size is None and last.high < 1:
            self._bare_share(amount.span.start, v[1][1], v[2])
        return self._thing(v[0].span.start, self._checked(v[2]), "", v[0])

    def thing_amount_our(self, v: list[Any]) -> FoodItem:
        return self._thing(v[0].span.start, self.name(v[2]), "our", v[0])

    def thing_share_amount(self, v: list[Any]) -> FoodItem:
        amount: Amount = v[0]
        first = amount.terms[0]
        span = self.span(amount.span.start, v[1][1])
        plain_number = len(amount.terms) == 1 and first.unit is None and amount.each is None and first.size is None
        if plain_number and first.low == first.high and first.high < 1:
            share = Share(span, "fraction", first.high, None, plain(span.text))
        else:
            share = Share(span, "amount", None, amount, plain(span.text))
        return self._thing(amount.span.start, self.name(v[2]), "the", None, share)

    def thing_share_short(self, v: list[Any]) -> FoodItem:
        # `1/3 the crumb`, as `half the crumb`; `200 g the crumb` leaves out its `of`.
        item = self.thing_share_amount(v)
        share, article = item.share, self.span(*v[1])
        if share is not None and share.amount is not None:
            better = f"{plain(share.amount.span.text)} {self.words.marks['of'][0]} {article.text} {item.name.text}"
            fix = Fix(Span(self.source, item.span.start, item.span.end), better, "take it of what is there")
            self.note(
                "unreadable-mark", article.start, article.end, "It is not clear whether this is new or a part of what is there.",
                f"Write `[{better}]` for a part of what is there.", elsewhere=(fix,),
            )  # fmt: skip
        return item

    def thing_share(self, v: list[Any]) -> FoodItem:
        start, end = v[0]
        span = self.span(start, end)
        article, said = self._without_article(fold(span.text))
        words = plain(span.text)
        if article == "our":
            # A share of what is not here yet would hang on the other dish's yield, which is not in this text.
            name = self.name(v[1]).text
            self.note(
                "unreadable-mark", start, span.end, f"`{words}` of another dish is no amount.",
                f"Write how much of it: `[250 ml {self.words.marks['our'][0]} {name}]`.",
            )  # fmt: skip
            self.broken = True
        fraction = self._fraction(said, start)
        if fraction is not None:
            share = Share(span, "fraction", fraction, None, words)
        elif said in self.words.share_rest:
            share = Share(span, "rest", None, None, words)
        else:
            share = Share(span, "unmeasured", None, None, words)
        return self._thing(start, self.name(v[1]), article, None, share)

    def _without_article(self, said: str) -> tuple[Article, str]:
        for word, article in (("our", "our"), ("the", "the")):
            for ending in self.words.marks[word]:
                if said.endswith(" " + ending) and said not in self.words.share_rest:
                    return article, said[: -len(ending) - 1]  # type: ignore[return-value]
        return "the", said

    def _fraction(self, said: str, start: int) -> Fraction | None:
        if said[0].isdigit():
            digits = PERCENT.match(said)
            return self._percent((start, start + (digits.end() if digits else 1))) / 100
        for of in self.words.marks["of"]:
            if said.endswith(" " + of) and said not in self.words.share_rest:
                said = said[: -len(of) - 1]
        return self.words.shares.get(said)

    def thing_part(self, v: list[Any]) -> FoodItem:
        (start, end), item = v
        of = fold(self.text[start:end])
        keys = [self.words.parts[word] for word in of.split() if word in self.words.parts]
        span = self.span(start, end)
        before = self._before_part(start, end)
        whole = item.span
        item = item._replace(span=Span(self.source, start, whole.end), part=Part(span, keys[0]))
        if len(keys) > 1 and item.plus is None:
            # `zest and juice of 1 lemon`: both parts of the same pieces.
            item = item._replace(plus=item._replace(part=Part(span, keys[1])))
        return item._replace(details=(before, *item.details)) if before else item  # type: ignore[no-any-return]

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
        if _MIDDLE in text and fold(text.partition(_MIDDLE)[0]) in self.words.shares:
            of = re.compile(r"\sof\s+").search(self.text, *token)
            if of:
                self._bare_share(token[0], of.end(), (of.end(), token[1]))
        elif _MIDDLE in text and _OF_NUMBER.search(text):
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

    def _bare_share(self, start: int, end: int, name: Token) -> None:
        """`[1/4 of crumb]`: a share of what is there wants its `the`; of what is bought it wants no `of`."""
        span, what = self.span(start, end), plain(self.text[slice(*name)])
        better = f"{plain(span.text)} {self.words.marks['the'][0]} {what}"
        self.note(
            "unreadable-mark", span.start, span.end, f"`{plain(span.text)}` what is there, or of something bought?",
            f"Write `[{better}]` for a share of what is there, or leave out the `of` for something bought.",
            elsewhere=(Fix(Span(self.source, start, name[1]), better, "take it of what is there"),),
        )  # fmt: skip
        self.broken = True

    def _refused(self, amount: Amount, token: Token) -> tuple[Amount, Token]:
        """`[1 T butter]`, `[200 gr flour]`: words that are no units though they were meant as such."""
        start, end = token
        raw = self.text[start:end]
        if not raw[0].isalpha() and self._odd(amount, start, end):
            return amount, token
        word, space, _ = raw.partition(" ")
        if word[1:2].isdigit() and self._odd(amount, start, end):
            return amount, token
        if not space:
            return amount, token
        key = self.words.refused_units.get(word.rstrip(".")) or self._misspelt(word)
        if key is None:
            return amount, token
        term = amount.terms[-1]
        meant = self.words.written(key, term.high)
        better = f"{plain(term.span.text)} {meant}"
        self.note(
            "unknown-unit", start, start + len(word), f"`{word}` is not a unit.", f"Write `{better}`.",
            fixes=((meant, f"write `{meant}`"),),
        )  # fmt: skip
        term = Term(Span(self.source, term.span.start, start + len(word)), term.low, term.high, key)
        after = len(raw) - len(raw[len(word) :].lstrip())
        return self.amount(*amount.terms[:-1], term, about=amount.about), (start + after, end)

    def _odd(self, amount: Amount, start: int, end: int) -> bool:
        """`1 000 g`, `1'000 g`, `5. g`, `1e5 g`: whether the name begins with what was meant for the number before it."""
        found = _ODD_REST.match(self.text, start, end)
        first = amount.terms[-1].span
        digits = first.text
        if found is None or not digits.isascii() or not digits.isdigit():
            return False
        groups, power = found["groups"], found["power"]
        if groups:
            following = _WORD.match(self.text, found.end(), end)
            if groups[0] not in "'’" and (following is None or following[1] not in self.unit_of):
                # `2 000 flour` may be two of a flour of that name.
                return False
            better = digits + re.sub(r"[^0-9]", "", groups)
        elif power:
            better = digits + "0" * int(power) if int(power) < 10 else "1000"
        else:
            better = digits
        self.odd_number(first.start, found.end(), better)
        self.broken = True
        return True

    def _misspelt(self, word: str) -> str | None:
        """The key of the unit that a long word was meant for."""
        if not 6 <= len(word) <= 16 or not word.isalpha():
            return None
        near = nearest(word, self.words.long_measures.get(word[0].lower(), ()), most=1)
        allowed = 2 if len(word) > 8 else 1
        return self.unit_of[near[0]] if near and distance(word.lower(), near[0], allowed) <= allowed else None
