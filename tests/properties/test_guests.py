"""Random menus: no seat is ever served what it must not have without a danger that no reason silences.

The menus are texts and go through the whole compiler. What a seat must not have is reckoned here from the outside table of foods, which
knows nothing of the larder, and from the menu as it was drawn, which knows nothing of demand, links or versions.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
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
class Crown:
    """A result that goes on top of a dish: its foods. The first of them is in the rest of the dish too, where `also` says how: `spoken of`
    again, out of what came in with the crown; `bought` again; or `shared` out of what was laid out for both."""

    foods: tuple[Food, ...]
    also: str = ""


@dataclass(frozen=True)
class Plate:
    """A dish: its foods, the number of a later dish it is made with, None for none, and what is made to go on top."""

    foods: tuple[Food, ...]
    made_with: int | None
    crown: Crown | None = None

    def text(self, number: int) -> str:
        """Its steps."""
        marks = [f"[100 g {food.name}]" for food in self.foods]
        if self.made_with is not None:
            marks.append(f"[50 g our dish number {_WORDS[self.made_with]}]")
        before = ""
        if self.crown is not None:
            own = [f"[100 g {food.name}]" for food in self.crown.foods]
            first = self.crown.foods[0].name
            if self.crown.also == "shared":
                before, own[0] = f"For the start:\n\n{own[0]}\n\n", f"[half the {first}]"
            before += f"For the top:\n\nMix {', '.join(own)} in a {{jug}} for <2 min attended>. -> {crown_name(number)}\n\nTo finish:\n\n"
            again = {
                "spoken of": f"[the {first}]",
                "bought": f"[100 g {first}]",
                "shared": f"[the rest of the {first}]",
                "": "",
            }
            marks += [again[self.crown.also]] if self.crown.also else []
            marks.append(f"[the {crown_name(number)}]")
        return f"{before}Mix {', '.join(marks)} in a {{bowl}} for <2 min attended>."


def crown_name(number: int) -> str:
    """What goes on top of that dish is called so."""
    return f"crown {_WORDS[number]}"


@dataclass(frozen=True)
class Ordered:
    """A dish on the menu: `seats` it is for, () for everyone else; `without` one food, or what goes on top of a dish, by its number."""

    dish: int
    seats: tuple[int, ...] = ()
    without: Food | int | None = None

    @property
    def left_out(self) -> str:
        """As it is written."""
        if isinstance(self.without, int):
            return crown_name(self.without)
        return "" if self.without is None else self.without.name


@dataclass(frozen=True)
class Menu:
    """A book of dishes and one event. `seats` say what each must not have; `accepts` is a reason written where none counts."""

    dishes: tuple[Plate, ...]
    orders: tuple[Ordered, ...]
    seats: tuple[tuple[str, ...], ...]
    accepts: bool

    def eaten(self, order: Ordered) -> tuple[Food, ...]:
        """All that is certainly in what is ordered, by the menu alone."""
        found: list[Food] = []
        number: int | None = order.dish
        while number is not None:
            plate = self.dishes[number]
            found += (food for food in plate.foods if food != order.without)
            if plate.crown is not None:
                found += _of_crown(plate.crown, number, order)
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
            lines = [f"Dish number {_WORDS[number]}", "serves: 4", "", plate.text(number)]
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
            if order.left_out:
                words += f", without {order.left_out}"
            if order.seats:
                some = " and ".join(str(seat) for seat in order.seats)
                words += f", for seat{'s' if len(order.seats) > 1 else ''} {some}"
            lines.append(f"[{words}]")
        (folder / "events" / "table.event").write_text("\n".join(lines) + "\n", "utf-8")


_WORDS = ("one", "two", "three")


def _of_crown(crown: Crown, number: int, order: Ordered) -> Iterator[Food]:
    """What of it is eaten. A food left out of it may take the rest along, being half of it: then only what is in the dish
    elsewhere too is certain."""
    if order.without == number:
        # What is spoken of again came in together with the rest: nobody can tell them apart.
        yield from crown.foods if crown.also == "spoken of" else crown.foods[: bool(crown.also)]
    elif order.without in crown.foods:
        yield from (food for food in crown.foods[: bool(crown.also)] if food != order.without)
    else:
        yield from crown.foods


_ALSO = ("spoken of", "", "bought", "shared")


def _crowns(dishes: list[Plate], dish: int) -> list[int]:
    """Numbers of the dishes whose crown is in it, six times each, so that they are drawn often."""
    found: list[int] = []
    at: int | None = dish
    while at is not None:
        found += [at] * 6 if dishes[at].crown is not None else []
        at = dishes[at].made_with
    return found


@st.composite
def menus(draw: st.DrawFn) -> Menu:
    """Up to three dishes, each perhaps made with the next and perhaps with something on top, for two to four seats, some of which have a
    plate of their own."""
    number = draw(st.integers(1, 3))
    chosen = st.lists(st.sampled_from(_FOODS), min_size=2, max_size=4, unique_by=lambda food: food.name)
    dishes = []
    for place in range(number):
        foods = draw(chosen)
        # A name that is part of another could mean both.
        own = [food for food in draw(chosen) if not any(food.name in o.name or o.name in food.name for o in foods)]
        crown = Crown(tuple(own), draw(st.sampled_from(_ALSO))) if own and draw(st.integers(0, 3)) else None
        dishes.append(Plate(tuple(foods), place + 1 if place + 1 < number and draw(st.booleans()) else None, crown))
    needs = st.lists(st.sampled_from(sorted(_ASKED)), max_size=2, unique=True)
    seats = [tuple(draw(needs)) for _ in range(draw(st.integers(2, 4)))]
    orders = []
    for dish in sorted(draw(st.sets(st.integers(0, number - 1), min_size=1))):
        orders.append(Ordered(dish))
        if draw(st.integers(0, 3)):
            seat = draw(st.integers(1, len(seats)))
            leave: list[Food | int] = [*dishes[dish].foods, *_crowns(dishes, dish)]
            without = draw(st.sampled_from(leave))
            orders.append(Ordered(dish, (seat,), without))
            if isinstance(without, int):
                # A plate is mostly made apart for the sake of what is left out.
                foods = dishes[without].crown.foods
                bad = [what for what, group in sorted(_ASKED.items()) if foods[0].expected(group) == "contains"]
                seats[seat - 1] = tuple(dict.fromkeys((*seats[seat - 1], *bad[: draw(st.integers(1, 2))])))
    return Menu(tuple(dishes), tuple(orders), tuple(seats), draw(st.booleans()))


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


@pytest.mark.parametrize(
    ("also", "refused", "said"),
    [("", False, False), ("spoken of", True, True), ("bought", False, True), ("shared", False, True)],
)
def test_a_result_left_out_takes_only_what_is_its_own(also: str, refused: bool, said: bool) -> None:
    """Whoever is allergic to what is in a result, and is given the dish without that result, is told when it is in the rest as well."""
    milk = next(food for food in _FOODS if food.name == "whole milk")
    rice = next(food for food in _FOODS if food.name == "basmati rice")
    carrots = next(food for food in _FOODS if food.name == "carrots")
    for through in (False, True):
        top = Plate((rice, carrots), None, Crown((milk,), also))
        dishes = (Plate((carrots, rice), 1), top) if through else (top,)
        menu = Menu(dishes, (Ordered(0), Ordered(0, (1,), len(dishes) - 1)), (("milk",), ()), False)
        findings = findings_of(menu)
        slugs = [finding.slug for finding in findings if finding.severity in (Severity.ERROR, Severity.DANGER)]
        assert ("cannot-leave-out" in slugs) is refused, (also, through)
        assert ("allergen-served" in slugs) is said, (also, through)
        assert missing(menu, findings) == []
