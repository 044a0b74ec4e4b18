"""The costing sheet as a page: the sums, a drawing of what each thing takes of the till, and every dish line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from recipec.emit.cost_csv import cost_csv
from recipec.emit.cost_words import dish_title, each_words, eaters_words, made_words, plates_number, remark_words
from recipec.emit.desk import Desk, desk_for_one, page_name
from recipec.emit.money import least_text, money_text
from recipec.emit.request import Paper, Request
from recipec.emit.swaps_words import swaps_words
from recipec.measure.currency import percent_words, to_minor
from recipec.model.prices import Money
from recipec.plan.costing import event_costing
from recipec.plan.costing_types import Costing, CostLine, DishCost, ItemCost
from recipec.plan.styling import style_of
from recipec.plan.swaps_types import Swaps

_FULL = 1000
"""Units of width of a whole bar."""


@dataclass(frozen=True, slots=True)
class SumText:
    """One of the sums; `each` is beside it, by guest or plate; `loud` when the budget does not hold."""

    words: str
    money: str
    each: str = ""
    loud: bool = False


@dataclass(frozen=True, slots=True)
class BarText:
    """A thing that is bought: what it costs, and its bar in thousandths of the longest: `used` of it goes on the plates."""

    name: str
    buy: str
    till: str
    used: str
    part: str
    width: int
    filled: int


@dataclass(frozen=True, slots=True)
class LineText:
    """A mark of a dish, worded. `href` leads from the output folder to the dish that is drawn on."""

    name: str
    href: str
    need: str
    left: str
    buy: str
    ap_rate: str
    ep_rate: str
    cost: str
    why: str


@dataclass(frozen=True, slots=True)
class DishText:
    """A dish, worded; sums with their names."""

    id: str
    title: str
    href: str
    over: str
    plates: str
    per_plate: str
    total: str
    part: str
    lines: tuple[LineText, ...]
    sums: tuple[SumText, ...]


def costs(desk: Desk) -> tuple[Paper, ...]:
    """A costing sheet, as a page and as a table for a spreadsheet, for every booking."""
    papers: list[Paper] = []
    for event in desk.book.events:
        costing = event_costing(desk.book, desk.request.larder, event, desk.reckoned[event.key], style_of(desk.book))
        papers.append(cost_paper(desk, costing, desk.paths.event(event.key, "cost.html"), back=True, alone=False))
        papers.append(Paper(desk.paths.event(event.key, "cost.csv"), cost_csv(costing, desk.tongue.code)))
    return tuple(papers)


def cost_page(request: Request, costing: Costing, swaps: Swaps | None = None) -> Paper:
    """A costing sheet that travels alone."""
    return cost_paper(desk_for_one(request), costing, "cost.html", swaps, back=False, alone=True)


def cost_paper(
    desk: Desk, costing: Costing, path: str, swaps: Swaps | None = None, *, back: bool, alone: bool
) -> Paper:
    """A sheet at `path`; `back` when it leads back to the booking's page."""
    words = _Words(desk, costing, alone)
    return desk.paper(
        path,
        "cost.html",
        ("base.css", "cost.css"),
        alone=alone,
        kind="cost",
        page_title=page_name(desk.tongue.say("Costing"), costing.title),
        costing=costing,
        eaters=eaters_words(costing, desk.tongue),
        back=back,
        sums=words.sums(),
        budget_bar=words.budget_bar(),
        bars=words.bars(),
        dishes=words.dishes(costing.dishes, "dish"),
        components=words.dishes(costing.components, "component"),
        remarks=remark_words(costing, desk.tongue),
        swaps=None if swaps is None else swaps_words(swaps, words.language),
    )


class _Words:
    def __init__(self, desk: Desk, costing: Costing, alone: bool) -> None:
        self.desk = desk
        self.costing = costing
        self.alone = alone
        self.language = desk.book.settings.language
        self.tongue = desk.tongue

    def sums(self) -> tuple[SumText, ...]:
        costing, say = self.costing, self.tongue.say
        least, paid = costing.at_least, costing.market.at_least
        found = [
            SumText(
                say("At the till, whole packs"),
                self.least(self.money(costing.till), paid),
                self._each(costing.till_per_guest),
            ),
            SumText(say("On the plates"), self.least(self.money(costing.used), least)),
        ]
        if costing.seasoning_part:
            allowance = say("Seasoning allowance, %(part)s", part=self.percent(costing.seasoning_part))
            found.append(SumText(allowance, self.money(costing.seasoning)))
        found.append(
            SumText(say("Food in all"), self.least(self.money(costing.total), least), self._each(costing.per_guest))
        )
        if costing.budget is not None:
            found.append(SumText(say("Budget, held against the till"), self.money(costing.budget)))
        if costing.left is not None:
            over = costing.left.value < 0
            left = self.money(Money(abs(costing.left.value), costing.left.currency))
            if over:
                found.append(SumText(say("Over the budget by"), self.least(left, paid), "", True))
            else:
                found.append(SumText(say("Left of the budget"), say("at most %(sum)s", sum=left) if paid else left))
        if costing.price is not None:
            words = say("Menu price, a guest") if costing.guests is not None else say("Menu price, a plate")
            found.append(SumText(words, self.money(costing.price)))
        if costing.food_cost is not None:
            words = say("Food cost, of the menu price")
            found.append(SumText(words, self.least(self.percent(costing.food_cost), least)))
        return tuple(found)

    def budget_bar(self) -> tuple[tuple[str, str, int, int], ...]:
        """Parts of the budget, or of the till where that is more or there is no budget: sort, words, start and width."""
        costing = self.costing
        used = min(Fraction(costing.used.value), Fraction(costing.till.value))
        till = Fraction(costing.till.value)
        budget = Fraction(costing.limit.value) if costing.limit is not None else till
        whole = max(till, budget)
        if not whole:
            return ()
        over = max(till - budget, Fraction(0))
        say = self.tongue.say
        parts = [
            ("used", say("on the plates"), used),
            ("packs", say("left in the packs"), till - used),
            ("spare", say("left of the budget"), max(budget - till, Fraction(0))),
        ]
        found, start = [], Fraction(0)
        for sort, words, value in parts:
            if value:
                text = f"{words} {self.money(self._coins(value))}"
                found.append((sort, text, round(start / whole * _FULL), round(value / whole * _FULL)))
            start += value
        if over:
            text = say("the budget ends at %(money)s", money=self.money(self._coins(budget)))
            found.append(("limit", text, round(budget / whole * _FULL), 0))
        return tuple(found)

    def bars(self) -> tuple[BarText, ...]:
        items = self.costing.items
        most = max((item.part for item in items), default=Fraction(0))
        return tuple(self._bar(item, most) for item in items)

    def _bar(self, item: ItemCost, most: Fraction) -> BarText:
        width = max(round(item.part / most * _FULL), 4) if most and item.till is not None else 0
        used = Fraction(0)
        if item.used is not None and item.till is not None and item.till.value:
            used = min(Fraction(item.used.value) / Fraction(item.till.value), Fraction(1))
        return BarText(
            name=item.name,
            buy=item.buy,
            till=self.money(item.till) if item.till is not None else self.tongue.say("no price"),
            used=self.money(item.used) if item.used is not None else "",
            part=percent_words(item.part, self.language, aligned=True) if item.till is not None else "",
            width=width,
            filled=round(width * used),
        )

    def dishes(self, dishes: Sequence[DishCost], sort: str) -> tuple[DishText, ...]:
        return tuple(self._dish(dish, f"{sort}-{place}") for place, dish in enumerate(dishes, 1))

    def _dish(self, dish: DishCost, place: str) -> DishText:
        least, say = dish.at_least, self.tongue.say
        whole = say("On the plates") if dish.plates is not None else say("In all")
        sums = [SumText(whole, self.least(self.money(dish.used), least))]
        if dish.seasoning.value:
            sums.append(SumText(say("With the seasoning allowance"), self.least(self.money(dish.total), least)))
        if dish.per_plate is not None:
            sums.append(SumText(say("A plate"), self.least(self.money(dish.per_plate), least)))
        if dish.price is not None:
            sums.append(SumText(say("Menu price, a plate"), self.money(dish.price)))
        if dish.food_cost is not None:
            words = say("Food cost, of the menu price")
            sums.append(SumText(words, self.least(self.percent(dish.food_cost), least)))
        return DishText(
            id=place,
            title=dish_title(dish, self.tongue),
            href=self._href(dish.dish),
            over=made_words(dish, self.tongue),
            plates="" if dish.plates is None else plates_number(dish.plates, self.tongue),
            per_plate="" if dish.per_plate is None else self.money(dish.per_plate),
            total=self.least(self.money(dish.total), least),
            part=percent_words(dish.part, self.language, aligned=True),
            lines=tuple(self._line(line) for line in dish.lines),
            sums=tuple(sums),
        )

    def _line(self, line: CostLine) -> LineText:
        trimmed = line.left != 1
        return LineText(
            name=line.name,
            href="" if line.dish is None else self._href(line.dish),
            need=line.need,
            left="" if line.dish is not None else self.percent(line.left),
            buy=line.buy,
            ap_rate=line.ap_rate,
            ep_rate=line.ep_rate if trimmed else "",
            cost=self.money(line.cost) if line.cost is not None else "",
            why="" if line.why is None else self.tongue.say(line.why.value, context="uncosted"),
        )

    def least(self, text: str, at_least: bool) -> str:
        return least_text(text, at_least, self.tongue)

    def money(self, money: Money) -> str:
        return money_text(money, self.language)

    def percent(self, part: Fraction) -> str:
        return percent_words(part, self.language)

    def _each(self, money: Money | None) -> str:
        return "" if money is None else each_words(self.costing, self.money(money), self.tongue)

    def _coins(self, exact: Fraction) -> Money:
        return Money(to_minor(exact, self.costing.currency), self.costing.currency)

    def _href(self, key: str) -> str:
        return "" if self.alone else self.desk.pages.get(key, "")
