"""Budget help: the cheapest of all combinations of choices, shops and packs, and what each swap saves alone.

Packs are whole, so that swaps interact: two that save nothing apart may save together. Marks that share nothing they buy do not, so the
combinations are looked at group by group, each reckoned as a market list of its own. No swap ever goes against what a guest asked for.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

from recipec.larder.larder import Larder
from recipec.measure.language import Language, language_of
from recipec.measure.show import AS_WRITTEN, Style, show_amount
from recipec.model.book import Book
from recipec.model.dish import Role, Use
from recipec.model.event import Event
from recipec.model.prices import Money
from recipec.plan.bills import Bill, Biller, BillLine
from recipec.plan.exchange import prices_in
from recipec.plan.market import currency_of
from recipec.plan.stand_ins import stand_ins_of
from recipec.plan.swaps_marks import Mark, Menu, reason
from recipec.plan.swaps_model import linear_best
from recipec.plan.swaps_types import Barred, ShopLeftOut, Swap, Swaps

_MOST = 500  # combinations of one group that are tried; more are a program, where one can say them

_Picks = tuple[tuple[tuple[str, int], int], ...]


def swaps(book: Book, larder: Larder, event_keys: Iterable[str], style: Style = AS_WRITTEN) -> Swaps:
    """The cheapest combination and the single swaps, for all of those events on one list.

    Raises KeyError for an event the book does not have.
    """
    events = []
    for key in sorted(set(event_keys)):
        event = book.event(key)
        if event is None:
            raise KeyError(key)
        events.append(event)
    return _Saver(book, larder, tuple(events), style).swaps()


@dataclass(slots=True)
class _Saver:
    book: Book
    larder: Larder
    events: tuple[Event, ...]
    style: Style
    biller: Biller = field(init=False)
    bills: dict[_Picks, Bill] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.biller = Biller(self.book, self.larder, self.events, self.style)

    def swaps(self) -> Swaps:
        currency = currency_of(self.book, self.events)
        base = self.bill_for(())
        menu = Menu(self.book, self.larder, self.events)
        marks = menu.marks()
        barred: list[Barred] = []
        allowed = {mark.key: self._allowed(menu, mark, base, barred) for mark in marks}
        groups, proved = groups_of([mark for mark in marks if allowed[mark.key]]), True
        picks: _Picks = ()
        if base.till is not None:
            for group in groups:
                found, exact = self._best(group, allowed, base)
                picks, proved = tuple(sorted((*picks, *found))), proved and exact
        best = self.bill_for(picks)
        if base.till is None or best.till is None:
            picks, best = (), base
        single = [swap for mark in marks for swap in self._singles(mark, allowed[mark.key], base)]
        taken = {(key, place) for key, place in picks}
        nothing = Money(Decimal("0.00"), currency)
        saving = nothing if base.till is None or best.till is None else _less(base.till, best.till)
        return Swaps(
            events=tuple(event.key for event in self.events),
            titles=tuple(event.title for event in self.events),
            currency=currency,
            base=base.till,
            best=best.till,
            saving=saving,
            proved=proved,
            at_least=best.at_least,
            chosen=dict(picks),
            combination=tuple(swap for swap in single if ((swap.dish, swap.use), swap.place) in taken),
            single=tuple(
                sorted(
                    (swap for swap in single if swap.saving.value > 0),
                    key=lambda swap: (-swap.saving.value, _place(swap)),
                )
            ),
            barred=tuple(barred),
            shops=tuple(self._shops(best, picks)),
            stand_ins=stand_ins_of(base, self.larder, self.events, prices_in(self.book, currency)[0], currency),
        )

    @property
    def _tongue(self) -> Language:
        return language_of(self.style.language)

    def bill_for(self, picks: _Picks) -> Bill:
        """The bill with those choices, reckoned once."""
        known = self.bills.get(picks)
        if known is None:
            known = self.bills[picks] = self.biller.bill(dict(picks))
        return known

    # ------------------------------------------------------------ one mark

    def _allowed(self, menu: Menu, mark: Mark, base: Bill, barred: list[Barred]) -> tuple[int, ...]:
        """The places of a mark that may be taken besides the first; why the others may not is noted."""
        found = []
        for place, choice in enumerate(mark.use.choices, 1):
            harm = next(iter(menu.against(mark, choice)), None)
            why = (
                reason(*harm, len(self.events) > 1, self._tongue)
                if harm
                else self._unpriced(menu, mark, choice, place, base)
            )
            if not why:
                found.append(place)
            else:
                before, after = self._words(mark.use), self._words(choice)
                barred.append(
                    Barred(mark.dish.key, mark.dish.title, mark.use.span, before, after, why, harm is not None)
                )
        return tuple(found)

    def _unpriced(self, menu: Menu, mark: Mark, choice: Use, place: int, base: Bill) -> str:
        """Why a choice can't be judged, '' when it can: all it brings must have a price, and its dishes must be reckonable."""
        there = self.bill_for(((mark.key, place),))
        brings = menu.bought(mark.dish, choice)
        missing = sorted(
            line.name
            for line in there.unpriced()
            if any(line.item == key or line.item.startswith(f"{key} ") for key in brings)
        )
        if missing:
            return self._tongue.say("no price is known for %(things)s", things=self._tongue.listed(missing))
        new = [problem for problem in there.problems if problem not in base.problems]
        return new[0] if new else ""

    def _singles(self, mark: Mark, places: tuple[int, ...], base: Bill) -> Iterator[Swap]:
        for place in places:
            found = self.bill_for(((mark.key, place),))
            if base.till is not None and found.till is not None:
                yield Swap(
                    dish=mark.dish.key,
                    title=mark.dish.title,
                    span=mark.use.span,
                    use=mark.use.number,
                    place=place,
                    before=self._words(mark.use),
                    after=self._words(mark.choices()[place]),
                    saving=_less(base.till, found.till),
                )

    def _words(self, choice: Use) -> str:
        """A choice as the dish has it: `120 g hazelnuts`, `our vegetable stock`."""
        name = self._tongue.say("our %(food)s", food=choice.name) if choice.role is Role.OUR else choice.name
        if choice.amount is None or not choice.amount.terms:
            return name
        shown = show_amount(choice.amount, self.style, written=True)
        return shown.text if choice.amount.terms[0].unit.name == "piece" and not name else f"{shown.text} {name}"

    # ------------------------------------------------------------ combinations

    def _best(
        self, group: Sequence[Mark], allowed: dict[tuple[str, int], tuple[int, ...]], base: Bill
    ) -> tuple[_Picks, bool]:
        """The cheapest choices of one group, of equal ones those with fewest swaps, and whether that is proved."""
        places = [(0, *allowed[mark.key]) for mark in group]
        if math.prod(len(row) for row in places) <= _MOST:
            best = min(itertools.product(*places), key=lambda picks: self._cost(group, picks, base))
            return _picked(group, best), True
        settled = self._by_program(group, places, base)
        if settled is not None:
            return _picked(group, settled), True
        # One change after another, as long as one helps.
        best = (0,) * len(group)
        while True:
            near = [
                (*best[:number], place, *best[number + 1 :])
                for number, row in enumerate(places)
                for place in row
                if place != best[number]
            ]
            better = min((best, *near), key=lambda picks: self._cost(group, picks, base))
            if better == best:
                return _picked(group, best), False
            best = better

    def _by_program(self, group: Sequence[Mark], places: Sequence[Sequence[int]], base: Bill) -> tuple[int, ...] | None:
        """The best of a large group, where its needs are plain sums: what the program says it costs must be what its bill says."""
        if any(choice.role is not Role.BUY for mark in group for choice in mark.choices()):
            return None
        if any(touched.startswith("version:") for mark in group for touched in mark.touches):
            return None
        single = {
            (number, place): self.bill_for(((mark.key, place),))
            for number, (mark, row) in enumerate(zip(group, places, strict=True))
            for place in row
            if place
        }
        found = linear_best(places, base, single)
        if found is None:
            return None
        picks, saved = found
        bill = self.bill_for(_picked(group, picks))
        agreed = (
            base.till is not None and bill.till is not None and Fraction(base.till.value - bill.till.value) == saved
        )
        return picks if agreed and not self._cost(group, picks, base)[0] else None

    def _cost(
        self, group: Sequence[Mark], picks: tuple[int, ...], base: Bill
    ) -> tuple[bool, Decimal, int, tuple[int, ...]]:
        """By what combinations are compared. One that leaves more unknown than the first choices do comes last."""
        found = self.bill_for(_picked(group, picks))
        known = {(line.department, line.item): line for line in base.unpriced()}
        unknown = any(_more(line, known.get((line.department, line.item))) for line in found.unpriced())
        unknown = unknown or any(problem not in base.problems for problem in found.problems)
        value = Decimal(0) if found.till is None else found.till.value
        return (unknown, value, sum(1 for place in picks if place), picks)

    # ------------------------------------------------------------ shops

    def _shops(self, best: Bill, picks: _Picks) -> Iterator[ShopLeftOut]:
        shops = sorted({shop for line in best.lines.values() for shop in line.shops})
        if best.till is None or len({price.shop for price in self.book.prices}) < 2:
            return
        for shop in shops:
            found = self.biller.bill(dict(picks), without_shop=shop)
            missing = tuple(
                sorted(
                    line.name for line in found.unpriced() if best.lines[line.department, line.item].cost is not None
                )
            )
            more = None if missing or found.till is None else _less(found.till, best.till)
            yield ShopLeftOut(shop, more, missing)


def groups_of(marks: Sequence[Mark]) -> tuple[tuple[Mark, ...], ...]:
    """Marks that touch the same things, directly or through others, each in its order."""
    groups: list[tuple[set[str], list[Mark]]] = []
    for mark in marks:
        touching = [group for group in groups if not group[0].isdisjoint(mark.touches)]
        groups = [group for group in groups if group not in touching]
        things = set(mark.touches).union(*(group[0] for group in touching))
        groups.append((things, [*(one for group in touching for one in group[1]), mark]))
    return tuple(tuple(sorted(group, key=lambda mark: mark.key)) for _, group in groups)


def _more(line: BillLine, before: BillLine | None) -> bool:
    """Whether a line asks for more than it did, of any kind."""
    if before is None or line.unmeasured > before.unmeasured:
        return True
    sums = {quantity.unit.kind: quantity.base_high for amount in before.need if (quantity := amount.total())}
    totals = [amount.total() for amount in line.need]
    return any(total is None or total.base_high > sums.get(total.unit.kind, -1) for total in totals)


def _picked(group: Sequence[Mark], picks: tuple[int, ...]) -> _Picks:
    return tuple(sorted((mark.key, place) for mark, place in zip(group, picks, strict=True) if place))


def _less(money: Money, other: Money) -> Money:
    return Money(money.value - other.value, money.currency)


def _place(swap: Swap) -> tuple[str, int, int]:
    return (swap.dish, swap.span.start, swap.place)
