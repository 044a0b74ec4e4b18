"""How much of every dish is wanted, through all the dishes made of it. Summed first and exactly; each is batched once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from recipec.larder.larder import Larder
from recipec.measure.quantity import Amount
from recipec.model.book import Book
from recipec.model.dish import Dish, Flag, Role, Use
from recipec.model.event import Event, Order
from recipec.plan.leaving_out import FIRST as FIRST
from recipec.plan.leaving_out import NOTHING, Leaving, Left
from recipec.plan.leaving_out import Chosen as Chosen
from recipec.plan.links import Links
from recipec.plan.scale import Scaled, Unscalable, factor_for, grows, plates_in, written_plates


@dataclass(frozen=True, slots=True)
class Ask:
    """What is wanted of a dish: plates, or an amount, or (both None) one full yield; and the foods left out of it."""

    dish: str
    plates: Fraction | None = None
    amount: Amount | None = None
    without: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Draw:
    """What one mark of a run takes of another run: `factor` times that dish as written."""

    use: Use
    dish: str
    without: tuple[str, ...]
    factor: Fraction


@dataclass(frozen=True, slots=True)
class Run:
    """One making of a dish. `without` are the foods left out, as written; `surplus` is the part of `factor` that is made only because
    batches are whole. `served` is the part that is asked for by itself, not by another dish, and `served_plates` its plates; `draws`
    is what it takes of other runs; `left` what goes of the dish without those foods."""

    dish: Dish
    without: tuple[str, ...]
    factor: Fraction
    plates: Fraction | None
    surplus: Fraction
    bought: tuple[Use, ...]
    served: Fraction = Fraction(0)
    served_plates: Fraction | None = None
    draws: tuple[Draw, ...] = ()
    left: Left = NOTHING

    def scaled(self) -> Scaled:
        """The dish as this run makes it."""
        return Scaled(self.dish, self.factor, self.plates)


@dataclass(frozen=True, slots=True)
class Demand:
    """`runs` in the order in which they can be made: what a dish is made of stands before it. `problems` are plain sentences."""

    runs: tuple[Run, ...]
    problems: tuple[str, ...]


def orders_of(event: Event) -> tuple[Ask, ...]:
    """What an event asks for. An order that says neither plates nor amount is a plate for everyone, less those seats that
    another order of the same dish in that course serves."""
    return tuple(
        Ask(order.dish, _plates(event, course.orders, order), order.amount, order.without)
        for course in event.courses
        for order in course.orders
        if order.dish is not None
    )


def _plates(event: Event, course: tuple[Order, ...], order: Order) -> Fraction | None:
    if order.amount is not None:
        return plates_in(order.amount)
    if order.plates is not None:
        return order.plates
    if order.seats:
        return Fraction(len(set(order.seats)))
    apart = {seat for other in course if other.dish == order.dish for seat in other.seats}
    return max(event.plates() - len(apart), Fraction(0))


def demand(book: Book, larder: Larder, asks: Iterable[Ask], chosen: Chosen = FIRST) -> Demand:
    """What must be made for all of `asks` together. The order of the asks never shows; circles of dishes are cut where they close.

    A choice that holds what is left out gives way to the next that does not, whatever is `chosen`.
    """
    return _Reckoner(book, larder, chosen).reckon(tuple(asks))


_Version = tuple[str, tuple[str, ...]]


@dataclass(slots=True)
class _Sum:
    factor: Fraction = Fraction(0)
    plates: Fraction | None = Fraction(0)
    served: Fraction = Fraction(0)
    served_plates: Fraction | None = None

    def add(self, factor: Fraction, plates: Fraction | None) -> None:
        self.factor += factor
        self.plates = None if self.plates is None or plates is None else self.plates + plates

    def serve(self) -> None:
        """All that was added so far is what is asked for by itself."""
        self.served, self.served_plates = self.factor, self.plates


@dataclass(slots=True)
class _Reckoner:
    book: Book
    larder: Larder
    chosen: Chosen
    links: Links = field(init=False)
    leaving: Leaving = field(init=False)
    sums: dict[_Version, _Sum] = field(default_factory=dict)
    problems: set[str] = field(default_factory=set)
    versions: dict[_Version, _Version] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.links = Links(self.book)
        self.leaving = Leaving(self.links, self.larder, self.chosen)

    def reckon(self, asks: tuple[Ask, ...]) -> Demand:
        """Consumers first, so that each dish's sum is whole before it is handed on."""
        wanted: list[tuple[_Version, Ask]] = []
        for ask in asks:
            dish = self.links.dish(ask.dish)
            if dish is None:
                self.problems.add(f"There is no dish `{ask.dish}` in the book.")
            else:
                wanted.append((self._version(dish, self.leaving.named(dish, ask.without)), ask))
        order = self._order(sorted({version for version, _ in wanted}))
        place = {version: number for number, version in enumerate(order)}
        for version, ask in wanted:
            self._want(version, ask.plates, ask.amount, Fraction(1))
        for total in self.sums.values():
            total.serve()
        runs = []
        for version in reversed(order):
            run = self._run(version)
            if run is not None:
                below = [pair for pair in self._below(version) if place[pair[1]] < place[version]]
                runs.append(replace(run, draws=tuple(draw for pair in below for draw in self._hand_on(run, *pair))))
        return Demand(tuple(reversed(runs)), tuple(sorted(self.problems)))

    def _run(self, version: _Version) -> Run | None:
        total = self.sums.get(version)
        if total is None or not total.factor:
            return None
        dish = self._dish(version)
        factor = Fraction(math.ceil(total.factor)) if dish.whole_batches else total.factor
        return Run(
            dish=dish,
            without=version[1],
            factor=factor,
            plates=total.plates,
            surplus=factor - total.factor,
            bought=tuple(self._bought(dish, version[1])),
            left=self.leaving.left(dish, version[1]),
            served=total.served,
            served_plates=total.served_plates,
        )

    def _hand_on(self, run: Run, use: Use, below: _Version) -> Iterator[Draw]:
        if use.amount is not None:
            amount = run.scaled().amount(use)
            if amount is None:
                self.problems.add(
                    f"`{run.dish.title}` takes {use.name} per plate, but how many plates it makes is not known."
                )
                return
            factor = self._want(below, None, amount, Fraction(1))
        elif Flag.PER_PLATE in use.flags and run.plates is not None:
            factor = self._want(below, run.plates, None, Fraction(1))
        else:
            factor = self._want(below, None, None, run.factor if grows(use) else Fraction(1))
        yield Draw(use, *below, factor)

    def _want(self, version: _Version, plates: Fraction | None, amount: Amount | None, times: Fraction) -> Fraction:
        """Adds to a version's sum; how many times the dish as written that is."""
        dish = self._dish(version)
        if plates is None and amount is not None:
            plates = plates_in(amount)
        found = factor_for(dish, plates, amount)
        if isinstance(found, Unscalable):
            self.problems.add(f"{dish.title} is reckoned as written once: {found.reason}.")
            found = Fraction(1)
        factor = found * times
        if plates is None:
            written = written_plates(dish)
            plates = None if written is None else written * factor
        self.sums.setdefault(version, _Sum()).add(factor, plates)
        return factor

    # ------------------------------------------------------------ what is made of what

    def _order(self, roots: list[_Version]) -> list[_Version]:
        """Every version needed, what a dish is made of before it. Walked without recursion: chains may be long."""
        order: list[_Version] = []
        state: dict[_Version, bool] = {}
        for root in roots:
            stack: list[tuple[_Version, Iterator[tuple[Use, _Version]]]] = []
            if root not in state:
                state[root] = False
                stack.append((root, iter(self._below(root))))
            while stack:
                version, below = stack[-1]
                following = next((other for _, other in below if other not in state), None)
                if following is None:
                    state[version] = True
                    order.append(version)
                    stack.pop()
                else:
                    state[following] = False
                    stack.append((following, iter(self._below(following))))
        return order

    def _below(self, version: _Version) -> list[tuple[Use, _Version]]:
        dish = self._dish(version)
        found = []
        for use in self.leaving.kept(dish, version[1]):
            below = self.links.meant(dish, use)
            if below is not None:
                found.append((use, self._version(below, version[1])))
        return found

    def _dish(self, version: _Version) -> Dish:
        dish = self.links.dish(version[0])
        assert dish is not None, "versions are made of dishes that were found"
        return dish

    def _bought(self, dish: Dish, without: tuple[str, ...]) -> Iterator[Use]:
        return (use for use in self.leaving.kept(dish, without) if use.role is Role.BUY)

    # ------------------------------------------------------------ leaving food out

    def _version(self, dish: Dish, without: tuple[str, ...]) -> _Version:
        """Foods whose leaving out changes nothing make no version of a dish: it is batched with the rest."""
        known = self.versions.get((dish.key, without))
        if known is None:
            known = (dish.key, tuple(sorted(self.leaving.matter(dish, without)))) if without else (dish.key, ())
            self.versions[dish.key, without] = known
        return known
