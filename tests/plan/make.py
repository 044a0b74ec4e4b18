"""Model values made by hand, so that the plan is held to what it is given, whatever the rings above make of a text.

All dishes and prices are invented.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.larder.ingredient import Each, Ingredient, PartOf, Trim
from recipec.larder.larder import Larder, builtin
from recipec.larder.names import normal_name
from recipec.measure.quantity import Amount, Quantity, quantity
from recipec.measure.units import unit
from recipec.model.book import Book
from recipec.model.dish import (
    Basis,
    Dish,
    Flag,
    FoodAt,
    GearUse,
    Made,
    Role,
    Sentence,
    Step,
    Strand,
    Thing,
    ThingKind,
    Use,
    Words,
    Yield,
)
from recipec.model.event import Course, Event, Order
from recipec.model.prices import Money, Price
from recipec.model.settings import Settings
from tests.changed import replace

Number = Fraction | int | str


def amount(number: Number, key: str = "piece", high: Number | None = None, **more: object) -> Amount:
    """`amount("1/2", "us_cup")`."""
    upper = None if high is None else Fraction(high)
    return replace(Amount((quantity(Fraction(number), unit(key), upper),)), **more)


@dataclass(frozen=True)
class Mark:
    """A food mark to be: written so, meaning so."""

    written: str
    name: str
    amount: Amount | None = None
    role: Role = Role.BUY
    thing: str = ""
    part: str | None = None
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    flags: tuple[Flag, ...] = ()
    basis: Basis | None = None
    choices: tuple[Mark, ...] = ()
    share: str = ""
    fraction: Fraction | None = None
    item: str | None = ""
    link: str = ""


def buy(written: str, name: str, much: Amount | None = None, **more: object) -> Mark:
    """`buy("200 g butter", "butter", amount(200, "g"))`."""
    return Mark(written, name, much, **more)  # type: ignore[arg-type]


def our(written: str, name: str, link: str, much: Amount | None = None, **more: object) -> Mark:
    """A mark of another dish."""
    return Mark(written, name, much, Role.OUR, f"our {name}", item=None, link=link, **more)  # type: ignore[arg-type]


def dish(
    key: str,
    *marks: Mark,
    serves: int | None = 4,
    makes: Amount | None = None,
    plate: Quantity | None = None,
    noun: str | None = None,
    whole_batches: bool = False,
    gear: Iterable[GearUse] = (),
    made: tuple[tuple[str, Amount | None], ...] = (),
    larder: Larder | None = None,
) -> Dish:
    """A dish of one strand and one step, a sentence a mark. `made` are results of its step."""
    known = builtin() if larder is None else larder
    title = key.replace("-", " ").capitalize()
    text = "\n".join([title, "", *(f"[{mark.written}]." for mark in marks), ""])
    source = Source(f"{key}.dish", text)
    uses = []
    place = 0
    for number, mark in enumerate(marks):
        place = text.index(f"[{mark.written}]", place)
        span = Span(source, place, place + len(mark.written) + 2)
        place = span.end
        uses.append(use_of(mark, number, span, known))
    step_span = Span(source, len(title) + 2, len(text))
    results = tuple(Made(step_span, normal_name(name), name, much, None, False) for name, much in made)
    sentences = tuple(Sentence((Words("Take "), FoodAt(number), Words("."))) for number in range(len(uses)))
    things: dict[str, Thing] = {}
    for use in uses:
        if use.role in (Role.BUY, Role.OUR) and use.thing not in things:
            kind = ThingKind.OUR if use.role is Role.OUR else ThingKind.BOUGHT
            things[use.thing] = Thing(use.thing, use.name, kind, use.item, use.amount, use.span, 0, 0)
    for result in results:
        things[result.thing] = Thing(result.thing, result.name, ThingKind.MADE, None, result.amount, result.span, 0, 0)
    return Dish(
        key=key,
        title=title,
        span=Span(source, 0, len(text)),
        title_span=Span(source, 0, len(title)),
        serves=None if serves is None else (serves, serves),
        makes=None if makes is None else Yield(makes, noun, plate),
        course="main",
        keeps=(),
        measures="metric",
        tags=(),
        photo="",
        source="",
        accepted=(),
        tolerance=Fraction(0),
        whole_batches=whole_batches,
        price=None,
        uses=tuple(uses),
        gear=tuple(replace(one, number=number) for number, one in enumerate(gear)),
        strands=(Strand(step_span, "", None, (Step(0, step_span, sentences, results, ()),), ()),),
        things=tuple(things.values()),
        links=tuple((number, mark.link) for number, mark in enumerate(marks) if mark.link),
    )


def use_of(mark: Mark, number: int, span: Span, larder: Larder) -> Use:
    """The use a mark would be lowered to."""
    match = larder.find(mark.name) if mark.item == "" else None
    item = match.ingredient.key if match is not None else (mark.item or None)
    return Use(
        number=number,
        span=span,
        role=mark.role,
        thing=mark.thing or item or normal_name(mark.name),
        name=mark.name,
        item=item,
        amount=mark.amount,
        fraction=mark.fraction,
        share=mark.share,
        part=mark.part,
        before=mark.before,
        after=mark.after,
        flags=frozenset(mark.flags),
        basis=mark.basis,
        choices=tuple(use_of(choice, number, span, larder) for choice in mark.choices),
    )


def used_up(name: str, much: Amount) -> GearUse:
    """Gear that is bought anew each time."""
    source = Source("supplies.dish", name)
    return GearUse(0, Span(source, 0, len(name)), name, normal_name(name), 1, False, much, "", None, False, None)


@dataclass(frozen=True)
class Ordered:
    """One order of an event."""

    dish: str
    plates: Fraction | None = None
    amount: Amount | None = None
    without: tuple[str, ...] = ()
    seats: tuple[int, ...] = ()


def event(
    key: str,
    *orders: Ordered,
    guests: int = 8,
    serve: datetime | None = None,
    on_hand: tuple[str, ...] = (),
    budget: Money | None = None,
    children: int = 0,
    spare: int = 0,
) -> Event:
    """An event of one course."""
    source = Source(f"{key}.event", key)
    span = Span(source, 0, len(key))
    course = Course(
        span, "Main", serve, None, None, None, (),
        tuple(
            Order(span, one.dish, one.dish, one.plates, one.amount, one.without, one.seats, ()) for one in orders
        ),
    )  # fmt: skip
    return Event(
        key=key, title=key.capitalize(), span=span, title_span=span, guests=guests, expecting=0, under_five=0,
        children=children, children_plate=Fraction(1, 2), crew=0, spare=spare, serve=serve, arrive=None,
        leave_by=None, prepare=(), kitchen=None, hands=(), budget=budget, price=None, on_hand=on_hand, seats=(),
        aim="", reserve_s=Fraction(0), measures="", accepted=(), prose=(), courses=(course,),
    )  # fmt: skip


def price(item: str, pack: Amount, value: str, shop: str = "Quay Stores", currency: str = "EUR") -> Price:
    """A row of the price book."""
    source = Source("prices.csv", item)
    return Price(item, item, pack, Money(Decimal(value), currency), shop, None, Span(source, 0, len(item)))


def book(
    dishes: Iterable[Dish], events: Iterable[Event] = (), prices: Iterable[Price] = (), settings: Settings | None = None
) -> Book:
    """A book, sorted as the linker leaves it."""
    return Book(
        settings or Settings(),
        tuple(sorted(dishes, key=lambda one: one.key)),
        tuple(sorted(events, key=lambda one: one.key)),
        (),
        tuple(prices),
    )


SOURCE = "invented for tests"


def stocked() -> Larder:
    """The built-in larder with a few foods whose figures the tests rely on."""
    own = (
        food(
            "lemon",
            "lemons",
            "produce",
            each=(("piece", 120),),
            parts=(("juice", 45, "ml", 48), ("zest", 6, "g", 48)),
        ),
        food(
            "egg",
            "eggs",
            "dairy and eggs",
            ("eggs",),
            each=(("piece", 50),),
            parts=(("white", 33, "g", 48), ("yolk", 17, "g", 24)),
        ),
        food("carrot", "carrots", "produce", each=(("piece", 60),)),
        food("squash", "squash", "produce", yields=(("peeled", "4/5"),)),
        food("salt", "salt", "spices"),
        food("oil", "oil", "dry goods"),
        food("mystery sauce", "mystery sauce", "other", None),
        food("stock cube", "stock cubes", "dry goods", ("celery",), is_open=True, may=("milk",)),
    )
    return knowing(*own)


def knowing(*foods: Ingredient) -> Larder:
    """The built-in larder under these."""
    return builtin().with_rows(tuple(_Whole(item) for item in foods))  # type: ignore[misc]


@dataclass(frozen=True)
class _Whole:
    """A row that replaces all that was known."""

    item: Ingredient

    @property
    def name(self) -> str:
        return self.item.name

    @property
    def aliases(self) -> tuple[str, ...]:
        return self.item.aliases

    def over(self, same: Ingredient | None, known: Ingredient | None) -> Ingredient:
        return self.item


def food(
    name: str,
    plural: str,
    department: str,
    allergens: tuple[str, ...] | None = (),
    each: tuple[tuple[str, int], ...] = (),
    parts: tuple[tuple[str, int, str, int], ...] = (),
    yields: tuple[tuple[str, str], ...] = (),
    is_open: bool = False,
    may: tuple[str, ...] = (),
) -> Ingredient:
    """A food of the larder."""
    return Ingredient(
        key=name,
        name=name,
        plural=plural,
        aliases=(),
        department=department,
        allergens=allergens,
        open=is_open,
        may_contain=may,
        named=(),
        animal=(),
        source=SOURCE,
        each=tuple(Each(key, "", Fraction(grams), SOURCE) for key, grams in each),
        parts=tuple(PartOf(part, Fraction(much), key, keeps, SOURCE) for part, much, key, keeps in parts),
        yields=tuple(Trim(treatment, Fraction(left), SOURCE) for treatment, left in yields),
    )
