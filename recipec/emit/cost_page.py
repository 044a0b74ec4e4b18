"""The costing sheet as a page: the sums, a drawing of what each thing takes of the till, and every dish line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from recipec.emit.cost_csv import cost_csv
from recipec.emit.cost_words import dish_title, plates_number, plates_words
from recipec.emit.desk import Desk, desk_for_one, page_name
from recipec.emit.money import money_text
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
        papers.append(Paper(desk.paths.event(event.key, "cost.csv"), cost_csv(costing)))
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
        page_title=page_name("Costing", costing.title),
        costing=costing,
        eaters=words.eaters(),
        back=back,
        sums=words.sums(),
        budget_bar=words.budget_bar(),
        bars=words.bars(),
        dishes=words.dishes(costing.dishes, "dish"),
        components=words.dishes(costing.components, "component"),
        remarks=words.remarks(),
        swaps=None if swaps is None else swaps_words(swaps, words.language),
    )


class _Words:
    def __init__(self, desk: Desk, costing: Costing, alone: bool) -> None:
        self.desk = desk
        self.costing = costing
        self.alone = alone
        self.language = desk.book.settings.language

    def eaters(self) -> str:
        guests = self.costing.guests
        if guests is None:
            return plates_words(self.costing.dishes[0].plates) if self.costing.dishes else ""
        return "1 guest" if guests == 1 else f"{guests} guests"

    def sums(self) -> tuple[SumText, ...]:
        costing = self.costing
        one = "a guest" if costing.guests is not None else "a plate"
        least = "at least " if costing.at_least else ""
        paid = "at least " if costing.market.at_least else ""
        found = [
            SumText(
                "At the till, whole packs", paid + self.money(costing.till), self._each(costing.till_per_guest, one)
            ),
            SumText("On the plates", least + self.money(costing.used)),
        ]
        if costing.seasoning_part:
            allowance = f"Seasoning allowance, {self.percent(costing.seasoning_part)}"
            found.append(SumText(allowance, self.money(costing.seasoning)))
        found.append(SumText("Food in all", least + self.money(costing.total), self._each(costing.per_guest, one)))
        if costing.budget is not None:
            found.append(SumText("Budget, held against the till", self.money(costing.budget)))
        if costing.left is not None:
            over = costing.left.value < 0
            left = self.money(Money(abs(costing.left.value), costing.left.currency))
            found.append(
                SumText(
                    "Over the budget by" if over else "Left of the budget",
                    (paid if over else paid and "at most ") + left,
                    "",
                    over,
                )
            )
        if costing.price is not None:
            found.append(SumText(f"Menu price, {one}", self.money(costing.price)))
        if costing.food_cost is not None:
            found.append(SumText("Food cost, of the menu price", least + self.percent(costing.food_cost)))
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
        parts = [
            ("used", "on the plates", used),
            ("packs", "left in the packs", till - used),
            ("spare", "left of the budget", max(budget - till, Fraction(0))),
        ]
        found, start = [], Fraction(0)
        for sort, words, value in parts:
            if value:
                text = f"{words} {self.money(self._coins(value))}"
                found.append((sort, text, round(start / whole * _FULL), round(value / whole * _FULL)))
            start += value
        if over:
            found.append(
                ("limit", f"the budget ends at {self.money(self._coins(budget))}", round(budget / whole * _FULL), 0)
            )
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
            till=self.money(item.till) if item.till is not None else "no price",
            used=self.money(item.used) if item.used is not None else "",
            part=percent_words(item.part, self.language, aligned=True) if item.till is not None else "",
            width=width,
            filled=round(width * used),
        )

    def dishes(self, dishes: Sequence[DishCost], sort: str) -> tuple[DishText, ...]:
        return tuple(self._dish(dish, f"{sort}-{place}") for place, dish in enumerate(dishes, 1))

    def _dish(self, dish: DishCost, place: str) -> DishText:
        least = "at least " if dish.at_least else ""
        sums = [SumText("On the plates" if dish.plates is not None else "In all", least + self.money(dish.used))]
        if dish.seasoning.value:
            sums.append(SumText("With the seasoning allowance", least + self.money(dish.total)))
        if dish.per_plate is not None:
            sums.append(SumText("A plate", least + self.money(dish.per_plate)))
        if dish.price is not None:
            sums.append(SumText("Menu price, a plate", self.money(dish.price)))
        if dish.food_cost is not None:
            sums.append(SumText("Food cost, of the menu price", least + self.percent(dish.food_cost)))
        return DishText(
            id=place,
            title=dish_title(dish),
            href=self._href(dish.dish),
            over=" · ".join(text for text in (plates_words(dish.plates), dish.made) if text),
            plates="" if dish.plates is None else plates_number(dish.plates),
            per_plate="" if dish.per_plate is None else self.money(dish.per_plate),
            total=least + self.money(dish.total),
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
            why="" if line.why is None else line.why.value,
        )

    def remarks(self) -> tuple[tuple[str, str], ...]:
        costing = self.costing
        unmeasured = () if costing.seasoning_part else costing.unmeasured
        return tuple(
            (words, ", ".join(names))
            for words, names in (
                ("No price known for", costing.unpriced),
                ("No amount given for", unmeasured),
                ("On hand, not costed", costing.on_hand),
            )
            if names
        )

    def money(self, money: Money) -> str:
        return money_text(money, self.language)

    def percent(self, part: Fraction) -> str:
        return percent_words(part, self.language)

    def _each(self, money: Money | None, one: str) -> str:
        return "" if money is None else f"{self.money(money)} {one}"

    def _coins(self, exact: Fraction) -> Money:
        return Money(to_minor(exact, self.costing.currency), self.costing.currency)

    def _href(self, key: str) -> str:
        return "" if self.alone else self.desk.pages.get(key, "")
