"""Random menus: no seat is ever served what it must not have without a danger that no reason silences.

The menus are texts and go through the whole compiler. What a seat must not have is reckoned here from the outside table of foods, which
knows nothing of the larder, and from the menu as it was drawn, which knows nothing of demand, links or versions.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipec.base.finding import Finding, Severity
from recipec.book.compile import compile_book
from tests.outside.test_foods_allergens import Food, foods

_ASKED = {
    "gluten": "gluten",
    "crustaceans": "crustaceans",
    "eggs": "eggs",
    "fish": "fish",
    "peanuts": "peanuts",
    "soya": "soybeans",
    "milk": "milk",
    "tree nuts": "nuts",
    "celery": "celery",
    "mustard": "mustard",
    "sesame": "sesame",
    "sulphites": "sulphites",
    "lupin": "lupin",
    "molluscs": "molluscs",
}
"""How a seat says it, and the group of the table that is meant."""

_WONDER = Food("wonder dust", frozenset(), frozenset(), frozenset("*"))
"""Nobody knows it, so it may be anything."""

_FOODS = (
    *(
        food
        for food in foods()
        if all(letter.isalpha() or letter == " " for letter in food.name) and not {"and", "or"} & {*food.name.split()}
    ),
    _WONDER,
)


@dataclass(frozen=True)
class Plate:
    """A dish: its foods, and the number of a later dish it is made with, None for none."""

    foods: tuple[Food, ...]
    made_with: int | None


@dataclass(frozen=True)
class Ordered:
    """A dish on the menu: `seats` it is for, () for everyone else; `without` one food."""

    dish: int
    seats: tuple[int, ...] = ()
    without: Food | None = None


@dataclass(frozen=True)
class Menu:
    """A book of dishes and one event. `seats` say what each must not have; `accepts` is a reason written where none counts."""

    dishes: tuple[Plate, ...]
    orders: tuple[Ordered, ...]
    seats: tuple[tuple[str, ...], ...]
    accepts: bool

    def eaten(self, order: Ordered) -> tuple[Food, ...]:
        """All that is in what is ordered, by the menu alone."""
        found: list[Food] = []
        number: int | None = order.dish
        while number is not None:
            plate = self.dishes[number]
            found += (food for food in plate.foods if food != order.without)
            number = plate.made_with
        return tuple(found)

    def served(self, order: Ordered) -> tuple[int, ...]:
        """Whom it is for: those it names, else all that no other order of that dish names."""
        if order.seats:
            return order.seats
        apart = {seat for other in self.orders if other.dish == order.dish for seat in other.seats}
        return tuple(seat for seat in range(1, len(self.seats) + 1) if seat not in apart)

    def write(self, folder: Path) -> None:
        """The texts of the book."""
        (folder / "dishes").mkdir()
        (folder / "events").mkdir()
        (folder / "cookbook.toml").write_text('title = "Random"\nmeasures = "metric"\nsafety = "uk"\n', "utf-8")
        for number, plate in enumerate(self.dishes):
            lines = [f"Dish number {_WORDS[number]}", "serves: 4", ""]
            marks = [f"[100 g {food.name}]" for food in plate.foods]
            if plate.made_with is not None:
                marks.append(f"[50 g our dish number {_WORDS[plate.made_with]}]")
            lines.append(f"Mix {', '.join(marks)} in a {{bowl}} for <2 min attended>.")
            text = "\n".join(lines).replace("serves: 4", "serves: 4" if number == 0 else "makes: 1 kg, 50 g a plate")
            (folder / "dishes" / f"dish-number-{_WORDS[number]}.dish").write_text(text + "\n", "utf-8")
        lines = ["A random table", f"guests: {len(self.seats)}", "serve: 2026-05-02 19:00"]
        lines += [
            f"seat {seat}: {'; '.join(f'allergic to {what}' for what in needs)}"
            for seat, needs in enumerate(self.seats, 1)
            if needs
        ]
        if self.accepts:
            lines += ["accept: allergen-served, we spoke of it", "accept: allergen-unknown, we spoke of it"]
        lines += ["", "Main, <19:00>:", ""]
        for order in self.orders:
            words = f"our dish number {_WORDS[order.dish]}"
            if order.seats:
                words = f"{len(order.seats)} plate{'s' if len(order.seats) > 1 else ''} of {words}"
            if order.without is not None:
                words += f", without {order.without.name}"
            if order.seats:
                some = " and ".join(str(seat) for seat in order.seats)
                words += f", for seat{'s' if len(order.seats) > 1 else ''} {some}"
            lines.append(f"[{words}]")
        (folder / "events" / "table.event").write_text("\n".join(lines) + "\n", "utf-8")


_WORDS = ("one", "two", "three")


@st.composite
def menus(draw: st.DrawFn) -> Menu:
    """Up to three dishes, each perhaps made with the next, for two to four seats, some of which have a plate of their own."""
    number = draw(st.integers(1, 3))
    chosen = st.lists(st.sampled_from(_FOODS), min_size=2, max_size=4, unique_by=lambda food: food.name)
    dishes = tuple(
        Plate(tuple(draw(chosen)), place + 1 if place + 1 < number and draw(st.booleans()) else None)
        for place in range(number)
    )
    needs = st.lists(st.sampled_from(sorted(_ASKED)), max_size=2, unique=True)
    seats = tuple(tuple(draw(needs)) for _ in range(draw(st.integers(2, 4))))
    orders = []
    for dish in sorted(draw(st.sets(st.integers(0, number - 1), min_size=1))):
        orders.append(Ordered(dish))
        if draw(st.booleans()):
            seat = draw(st.integers(1, len(seats)))
            orders.append(Ordered(dish, (seat,), draw(st.sampled_from(dishes[dish].foods))))
    return Menu(dishes, tuple(orders), seats, draw(st.booleans()))


def findings_of(menu: Menu) -> tuple[Finding, ...]:
    """What the compiler says of it."""
    with TemporaryDirectory(dir=os.environ.get("TMPDIR")) as folder:
        menu.write(Path(folder))
        return compile_book(Path(folder)).findings


def missing(menu: Menu, findings: tuple[Finding, ...]) -> list[str]:
    """Plates that must not be eaten and of which nothing is said."""
    found = []
    refused = {finding.span.text for finding in findings if finding.slug == "cannot-leave-out"}
    for order in menu.orders:
        words = f"dish number {_WORDS[order.dish]}"
        for seat in menu.served(order):
            for what in menu.seats[seat - 1]:
                group = _ASKED[what]
                worst = [food for food in menu.eaten(order) if food.expected(group) != "free"]
                certain = [food for food in worst if food.expected(group) == "contains"]
                wanted = {"allergen-served"} if certain else {"allergen-served", "allergen-unknown"}
                said = [
                    finding
                    for finding in findings
                    # A food the larder does not know is unknown, whatever the table says it contains.
                    if finding.slug in wanted | {"allergen-unknown"}
                    and finding.severity is Severity.DANGER
                    and finding.accepted is None
                    and f"Seat {seat} " in finding.message
                    and what in finding.message
                    and words in finding.span.text
                ]
                if worst and not said and not any(words in text for text in refused):
                    found.append(f"seat {seat}, {what}, {words}: {[food.name for food in worst]}")
    return found


@settings(deadline=None, max_examples=80, suppress_health_check=[HealthCheck.too_slow])
@given(menus())
def test_no_seat_is_served_what_it_must_not_have_unsaid(menu: Menu) -> None:
    findings = findings_of(menu)
    errors = {finding.slug for finding in findings if finding.severity is Severity.ERROR}
    assert errors <= {"cannot-leave-out", "bad-fact"}, "an `accept:` that nothing can accept is no fact"
    assert missing(menu, findings) == []


def test_the_law_bites() -> None:
    """The law finds a plate of which nothing is said: with the findings taken away it names it."""
    milk = next(food for food in _FOODS if food.name == "whole milk")
    rice = next(food for food in _FOODS if food.name == "basmati rice")
    menu = Menu((Plate((rice,), 1), Plate((milk, rice), None)), (Ordered(0),), (("milk",), ()), False)
    findings = findings_of(menu)
    assert not [finding.message for finding in findings if finding.severity is Severity.ERROR]
    assert missing(menu, findings) == []
    assert missing(menu, ()) == ["seat 1, milk, dish number one: ['whole milk']"]
