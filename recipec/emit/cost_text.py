"""The costing sheet as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from recipec.emit.cost_words import dish_title, each_words, eaters_words, made_words, plates_number, remark_words
from recipec.emit.money import least_text, money_text
from recipec.emit.plain import columns, page, rule, safe, title_line, wrap
from recipec.emit.swaps_words import swaps_lines
from recipec.measure.currency import percent_words
from recipec.measure.language import language_of
from recipec.measure.numerals import NO_BREAK
from recipec.model.prices import Money
from recipec.plan.costing_types import Costing, CostLine, DishCost, ItemCost
from recipec.plan.swaps_types import Swaps

_BAR = 20
_TILL_LINES = 15
_NAME, _NEED, _YIELD, _RATE, _COST = 22, 15, 6, 15, 9
_GAP = "  "


def cost_text(costing: Costing, language: str = "en", swaps: Swaps | None = None) -> str:
    """The sums, budget help where it was asked for, what each thing takes of the till, and every dish line by line."""
    return page(list(_Sheet(costing, language, swaps).lines()))


class _Sheet:
    def __init__(self, costing: Costing, language: str, swaps: Swaps | None) -> None:
        self.costing = costing
        self.language = language
        self.tongue = language_of(language)
        self.swaps = swaps

    def lines(self) -> Iterator[str]:
        costing, say = self.costing, self.tongue.say
        yield from title_line(say("Costing: %(what)s", what=costing.title), eaters_words(costing, self.tongue))
        yield rule("═")
        yield from self._sums()
        if self.swaps is not None:
            yield from swaps_lines(self.swaps, self.language)
        if costing.items:
            heads = f"{say('paid', context='column')}{say('on plates', context='column'):>13}"
            yield from ("", *title_line(say("WHAT EACH THING TAKES OF THE TILL"), heads), rule())
            yield from self._till()
            yield f"{'':<32}█ {say('on the plates')}  ░ {say('left in the packs')}"
        if costing.guests is not None and costing.dishes:
            heads = (
                f"{say('plates', context='column'):>6}{say('per plate', context='column'):>12}"
                f"{say('food', context='column'):>11}{say('part', context='column'):>7}"
            )
            yield from ("", *title_line(say("DISHES"), heads.lstrip()), rule())
            for dish in costing.dishes:
                yield from self._dish_line(dish)
        for dish in (*costing.dishes, *costing.components):
            yield from self._dish(dish)
        for problem in costing.problems:
            yield from wrap(problem, say("Not reckoned") + "  ")

    # ------------------------------------------------------------ the sums

    def _sums(self) -> Iterator[str]:
        costing, say = self.costing, self.tongue.say
        least, paid = costing.at_least, costing.market.at_least
        till = self._least(self._money(costing.till), paid)
        yield from self._sum(say("At the till, whole packs"), till, costing.till_per_guest)
        yield from self._sum(say("On the plates"), self._least(self._money(costing.used), least))
        if costing.seasoning_part:
            words = say("Seasoning allowance, %(part)s", part=percent_words(costing.seasoning_part, self.language))
            yield from self._sum(words, self._money(costing.seasoning))
        yield from self._sum(say("Food in all"), self._least(self._money(costing.total), least), costing.per_guest)
        if costing.budget is not None:
            yield from self._sum(say("Budget, held against the till"), self._money(costing.budget))
        if costing.left is not None:
            left = self._money(Money(abs(costing.left.value), costing.left.currency))
            if costing.left.value < 0:
                yield from self._sum(say("OVER THE BUDGET BY"), self._least(left, paid))
            else:
                yield from self._sum(say("Left of the budget"), say("at most %(sum)s", sum=left) if paid else left)
        if costing.price is not None:
            words = say("Menu price a guest") if costing.guests is not None else say("Menu price a plate")
            yield from self._sum(words, self._money(costing.price))
        if costing.food_cost is not None:
            yield from self._sum(say("Food cost"), self._least(percent_words(costing.food_cost, self.language), least))
        for words, names in remark_words(costing, self.tongue):
            yield from wrap(names, f"{words}  ", "    ")

    def _sum(self, words: str, money: str, each: Money | None = None) -> Iterator[str]:
        beside = "" if each is None else each_words(self.costing, self._money(each), self.tongue)
        yield from title_line(words, f"{money}{beside:>18}")

    def _least(self, text: str, at_least: bool) -> str:
        return least_text(text, at_least, self.tongue)

    # ------------------------------------------------------------ the till

    def _till(self) -> Iterator[str]:
        items = [item for item in self.costing.items if item.till is not None]
        most = max((item.part for item in items), default=Fraction(0))
        for item in items[:_TILL_LINES]:
            yield self._item(item, most)
        rest = items[_TILL_LINES:]
        if rest:
            paid = sum((item.till.value for item in rest if item.till), start=self.costing.till.value * 0)
            used = sum((item.used.value for item in rest if item.used), start=paid * 0)
            currency = self.costing.currency
            words = self.tongue.say("%(number)s others", number=len(rest)) if len(rest) > 1 else rest[0].name
            part = sum((item.part for item in rest), Fraction(0))
            yield self._bar_line(words, part, "", Money(paid, currency), Money(used, currency))

    def _item(self, item: ItemCost, most: Fraction) -> str:
        assert item.till is not None
        used = Fraction(item.used.value) / Fraction(item.till.value) if item.used and item.till.value else Fraction(0)
        # Filled: what goes on the plates. Open: what is left in the packs.
        length = max(round(item.part / most * _BAR), 1) if most else 0
        filled = min(round(length * used), length)
        return self._bar_line(item.name, item.part, "█" * filled + "░" * (length - filled), item.till, item.used)

    def _bar_line(self, name: str, part: Fraction, bar: str, paid: Money, used: Money | None) -> str:
        text = f"{_fit(name, 24)} {percent_words(part, self.language, aligned=True):>6} {bar:<{_BAR}}"
        return _tidy(f"{text}{self._money(paid):>13}{self._money(used) if used else '':>13}")

    # ------------------------------------------------------------ dishes

    def _dish_line(self, dish: DishCost) -> Iterator[str]:
        plate = "" if dish.per_plate is None else self._money(dish.per_plate)
        plates = "" if dish.plates is None else plates_number(dish.plates, self.tongue)
        right = f"{plates:>6}{plate:>12}{self._money(dish.total):>11}{percent_words(dish.part, self.language, aligned=True):>7}"
        yield from title_line(dish_title(dish, self.tongue), _tidy(right))

    def _dish(self, dish: DishCost) -> Iterator[str]:
        say = self.tongue.say
        yield from (
            "",
            *title_line(dish_title(dish, self.tongue).upper(), made_words(dish, self.tongue)),
            rule(),
        )
        heads = (
            f"{say('need', context='column'):<{_NEED}}{_GAP}{say('yield', context='column'):>{_YIELD}}"
            f"{say('as bought', context='column'):>{_RATE}}{say('cost', context='column'):>{_COST}}"
        )
        yield f"{'':<{_NAME}}{_GAP}{heads}"
        for line in dish.lines:
            yield from self._line(line)
        yield from title_line("", f"{rule('─', _COST)}")
        least = dish.at_least
        yield from title_line(
            say("On the plates") if dish.plates is not None else say("In all"),
            self._least(self._money(dish.used), least),
        )
        if dish.seasoning.value:
            yield from title_line(say("with the seasoning allowance"), self._least(self._money(dish.total), least))
        if dish.per_plate is not None:
            yield from title_line(say("a plate"), self._least(self._money(dish.per_plate), least))
        if dish.price is not None and dish.food_cost is not None:
            words = say("of the menu price, %(price)s a plate", price=self._money(dish.price))
            yield from title_line(words, self._least(percent_words(dish.food_cost, self.language), least))

    def _line(self, line: CostLine) -> Iterator[str]:
        left = "" if line.dish is not None else percent_words(line.left, self.language)
        cost = self._money(line.cost) if line.cost is not None else ""
        names, needs = wrap(line.name, width=_NAME), wrap(line.need, width=_NEED)
        for place in range(max(len(names), len(needs))):
            name = names[place] if place < len(names) else ""
            need = needs[place] if place < len(needs) else ""
            head = f"{_padded(name, _NAME)}{_GAP}{_padded(need, _NEED)}{_GAP}"
            tail = f"{left:>{_YIELD}}{_rate(line.ap_rate):>{_RATE}}{cost:>{_COST}}" if place == 0 else ""
            if place == 0 and line.why is not None:
                why = self.tongue.say(line.why.value, context="uncosted")
                tail = f"{why:>{_YIELD + _RATE + _COST}}"
            yield _tidy(head + tail)
        if line.buy:
            words = self.tongue.say("buy %(packs)s; edible portion %(price)s", packs=line.buy, price=line.ep_rate)
            yield from wrap(words, "    ")

    def _money(self, money: Money) -> str:
        return money_text(money, self.language)


def _rate(text: str) -> str:
    return text.replace(" per ", "/").replace(" each", " ea.")


def _fit(text: str, width: int) -> str:
    text = safe(text)
    while columns(text) > width:
        text = text[:-2].rstrip() + "…"
    return _padded(text, width)


def _padded(text: str, width: int) -> str:
    return text + " " * max(width - columns(text), 0)


def _tidy(text: str) -> str:
    return text.replace(NO_BREAK, " ").replace("\u202f", " ")
