"""Why a food can't be left out of a dish, in plain words; and the finding where an event asks for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name, singular
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use
from recipec.model.event import Event
from recipec.plan.leaving_out import Leaving
from recipec.plan.links import Links


class Refused(NamedTuple):
    """`food` as the cook wrote it, why it stays, the marks that hold it with a few words each, and what to do. `absent` when the
    dish has no such food at all, or several."""

    food: str
    text: str
    marks: tuple[tuple[Span, str], ...]
    hint: str
    absent: bool = False


def refusals(leaving: Leaving, dish: Dish, foods: tuple[str, ...]) -> tuple[Refused, ...]:
    """Every reason why these foods can't be left out of the dish together; () when they can."""
    return tuple(_refusals(leaving, dish, foods))


def refusal_findings(book: Book, larder: Larder, event: Event) -> tuple[Finding, ...]:
    """`cannot-leave-out` for every order of an event that leaves out what can't be. What is not in the dish at all has been told when
    the book was put together."""
    leaving = Leaving(Links(book), larder)
    found = []
    for course in event.courses:
        for order in course.orders:
            dish = None if order.dish is None else leaving.links.dish(order.dish)
            if dish is None or not order.without:
                continue
            for one in refusals(leaving, dish, order.without):
                if not one.absent:
                    labels = tuple(Label(span, words) for span, words in one.marks)
                    found.append(Finding("cannot-leave-out", order.span, one.text, labels, (one.hint,)))
    return tuple(dict.fromkeys(found))


def _refusals(leaving: Leaving, dish: Dish, foods: tuple[str, ...]) -> Iterator[Refused]:
    named = leaving.named(dish, foods)
    there = []
    for food, name in zip(foods, named, strict=True):
        if not leaving.matter(dish, (name,)):
            if not _second_choice(leaving, dish, name):
                yield _absent(leaving, dish, food)
        else:
            there.append((food, name))
    for food, name in there:
        if leaving.left(dish, (name,)).whole:
            yield _whole(leaving, dish, food, (name,))
            return
    names = tuple(name for _, name in there)
    if len(there) > 1 and leaving.left(dish, names).whole:
        yield _whole(leaving, dish, " and ".join(food for food, _ in there), names)
        return
    for food, name in there:
        yield from _within(leaving, dish, food, name, names)
    if names:
        yield from _measured_by(leaving, dish, names)


def _whole(leaving: Leaving, dish: Dish, food: str, names: tuple[str, ...]) -> Refused:
    marks = tuple(
        (use.span, "this")
        for part in leaving.all_of(dish)
        for use in leaving.kept(part, ())
        if any(leaving.is_food(use, name, part) for name in names)
    )
    return Refused(
        food,
        f"{dish.title} is made from {food}: with that left out nothing is left that could go by its name.",
        marks,
        "Order another dish for those plates.",
    )


def _within(leaving: Leaving, dish: Dish, food: str, name: str, names: tuple[str, ...]) -> Iterator[Refused]:
    """A bought food that holds it: nobody gets the hazelnuts out of a praline."""
    match = leaving.larder.find(name)
    words = normal_name(name)
    keys = {words, singular(words)} | ({match.ingredient.key} if match is not None else set())
    for part in leaving.all_of(dish, names):
        for use in leaving.kept(part, names):
            item = None if use.item is None else leaving.larder.get(use.item)
            if use.role is Role.BUY and item is not None and keys & set(item.named):
                yield Refused(
                    food,
                    f"{item.name[:1].upper()}{item.name[1:]} in {part.title} has {food} in it as it is bought, "
                    f"and leaving out {food} does not take that away.",
                    ((use.span, f"has {food} in it"),),
                    f"Leave that out too, by `without {food}, without {use.name}`, or give it another choice with `or`.",
                )


def _measured_by(leaving: Leaving, dish: Dish, names: tuple[str, ...]) -> Iterator[Refused]:
    """`[salt, 2% of the duck legs]` without duck legs: how much salt is no longer said."""
    for part in leaving.all_of(dish, names):
        left = leaving.left(part, names)
        for use in leaving.kept(part, names):
            if use.basis is not None and use.basis.thing in left.things:
                thing = part.thing(use.basis.thing).name
                yield Refused(
                    " and ".join(names),
                    f"How much {use.name} goes into {part.title} is reckoned from the {thing}, which would not be there.",
                    ((use.span, f"reckoned from the {thing}"),),
                    f"Give the {use.name} an amount of its own.",
                )


def _second_choice(leaving: Leaving, dish: Dish, name: str) -> bool:
    """Whether it is only ever what stands after `or`: then it is not there anyway."""
    return any(
        leaving.is_food(choice, name, part)
        for part in leaving.all_of(dish)
        for use in part.uses
        for choice in use.choices
    )


def _absent(leaving: Leaving, dish: Dish, food: str) -> Refused:
    marks: dict[str, Use] = {}
    for part in leaving.all_of(dish):
        for use in leaving.kept(part, ()):
            marks.setdefault(normal_name(use.name), use)
    wanted = normal_name(food)
    ends = [use for name, use in marks.items() if name.endswith(f" {wanted}")]
    if ends:
        text = f"`without {food}` could mean several foods of {dish.title}."
        return Refused(food, text, tuple((use.span, "this?") for use in ends), "Write its name in full.", True)
    near = nearest(wanted, sorted(marks))
    hint = f"Did you mean `without {marks[near[0]].name}`?" if near else "Check the name against the dish."
    return Refused(food, f"Nothing called `{food}` is in {dish.title} to leave out.", (), hint, True)
