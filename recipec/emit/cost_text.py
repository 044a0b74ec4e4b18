"""The costing sheet as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from recipec.emit.cost_words import dish_title, plates_number, plates_words
from recipec.emit.money import money_text
from recipec.emit.plain import columns, page, rule, safe, title_line, wrap
from recipec.emit.swaps_words import swaps_lines
from recipec.measure.currency import percent_words
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
        self.swaps = swaps

    def lines(self) -> Iterator[str]:
        costing = self.costing
        yield from title_line(f"Costing: {costing.title}", self._eaters())
        yield rule("═")
        yield from self._sums()
        if self.swaps is not None:
            yield from swaps_lines(self.swaps, self.language)
        if costing.items:
            yield from ("", *title_line("WHAT EACH THING TAKES OF THE TILL", "paid    on plates"), rule())
            yield from self._till()
            yield f"{'':<32}█ on the plates  ░ left in the packs"
        if costing.guests is not None and costing.dishes:
            yield from ("", *title_line("DISHES", "plates   per plate       food   part"), rule())
            for dish in costing.dishes:
                yield from self._dish_line(dish)
        for dish in (*costing.dishes, *costing.components):
            yield from self._dish(dish)
        for problem in costing.problems:
            yield from wrap(problem, "Not reckoned  ")

    def _eaters(self) -> str:
        guests = self.costing.guests
        if guests is None:
            return plates_words(self.costing.dishes[0].plates) if self.costing.dishes else ""
        return "1 guest" if guests == 1 else f"{guests} guests"

    # ------------------------------------------------------------ the sums

    def _sums(self) -> Iterator[str]:
        costing = self.costing
        least = "at least " if costing.at_least else ""
        one = "a guest" if costing.guests is not None else "a plate"
        paid = "at least " if costing.market.at_least else ""
        yield from self._sum("At the till, whole packs", costing.till, costing.till_per_guest, one, paid)
        yield from self._sum("On the plates", costing.used, None, one, least)
        if costing.seasoning_part:
            words = f"Seasoning allowance, {percent_words(costing.seasoning_part, self.language)}"
            yield from self._sum(words, costing.seasoning, None, one, "")
        yield from self._sum("Food in all", costing.total, costing.per_guest, one, least)
        if costing.budget is not None:
            yield from self._sum("Budget, held against the till", costing.budget, None, one, "")
        if costing.left is not None:
            over = costing.left.value < 0
            left = Money(abs(costing.left.value), costing.left.currency)
            yield from self._sum(
                "OVER THE BUDGET BY" if over else "Left of the budget",
                left,
                None,
                one,
                paid if over else paid and "at most ",
            )
        if costing.price is not None:
            yield from self._sum(f"Menu price {one}", costing.price, None, one, "")
        if costing.food_cost is not None:
            yield from title_line("Food cost", f"{least}{percent_words(costing.food_cost, self.language)}{' ' * 18}")
        for words, names in (
            ("No price known for  ", costing.unpriced),
            ("No amount given for  ", () if costing.seasoning_part else costing.unmeasured),
            ("On hand, not costed  ", costing.on_hand),
        ):
            if names:
                yield from wrap(", ".join(names), words, "    ")

    def _sum(self, words: str, money: Money, each: Money | None, one: str, least: str) -> Iterator[str]:
        beside = "" if each is None else f"{self._money(each)} {one}"
        yield from title_line(words, f"{least}{self._money(money)}{beside:>18}")

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
            words = f"{len(rest)} others" if len(rest) > 1 else rest[0].name
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
        plates = "" if dish.plates is None else plates_number(dish.plates)
        right = f"{plates:>6}{plate:>12}{self._money(dish.total):>11}{percent_words(dish.part, self.language, aligned=True):>7}"
        yield from title_line(dish_title(dish), _tidy(right))

    def _dish(self, dish: DishCost) -> Iterator[str]:
        made = " · ".join(text for text in (plates_words(dish.plates), dish.made) if text)
        yield from ("", *title_line(dish_title(dish).upper(), made), rule())
        heads = f"{'need':<{_NEED}}{_GAP}{'yield':>{_YIELD}}{'as bought':>{_RATE}}{'cost':>{_COST}}"
        yield f"{'':<{_NAME}}{_GAP}{heads}"
        for line in dish.lines:
            yield from self._line(line)
        yield from title_line("", f"{rule('─', _COST)}")
        least = "at least " if dish.at_least else ""
        yield from title_line(
            "On the plates" if dish.plates is not None else "In all", f"{least}{self._money(dish.used)}"
        )
        if dish.seasoning.value:
            yield from title_line("with the seasoning allowance", f"{least}{self._money(dish.total)}")
        if dish.per_plate is not None:
            yield from title_line("a plate", f"{least}{self._money(dish.per_plate)}")
        if dish.price is not None and dish.food_cost is not None:
            words = f"of the menu price, {self._money(dish.price)} a plate"
            yield from title_line(words, f"{least}{percent_words(dish.food_cost, self.language)}")

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
                tail = f"{line.why.value:>{_YIELD + _RATE + _COST}}"
            yield _tidy(head + tail)
        if line.buy:
            yield from wrap(f"buy {line.buy}; edible portion {line.ep_rate}", "    ")

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
