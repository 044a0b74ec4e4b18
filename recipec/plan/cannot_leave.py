"""Why a food or a result can't be left out of a dish, in plain words; and the finding where an event asks for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name, singular
from recipec.model.book import Book
from recipec.model.dish import Dish, Role
from recipec.model.event import Event
from recipec.plan.leaving_out import Leaving, plain_name, results_by_name, strand_name
from recipec.plan.links import Links
from recipec.plan.wording import bare_name


class Refused(NamedTuple):
    """`food` as the cook wrote it, why it stays, the marks that hold it with a few words each, and what to do. `absent` when the
    dish has nothing of that name, or several things."""

    food: str
    text: str
    marks: tuple[tuple[Span, str], ...]
    hint: str
    absent: bool = False


def refusals(leaving: Leaving, dish: Dish, foods: tuple[str, ...]) -> tuple[Refused, ...]:
    """Every reason why these foods can't be left out of the dish together; () when they can."""
    return tuple(_refusals(leaving, dish, foods))


def refusal_findings(book: Book, larder: Larder, event: Event) -> tuple[Finding, ...]:
    """`cannot-leave-out` for every order of an event that leaves out what can't be, or what is not there."""
    leaving = Leaving(Links(book), larder)
    found = []
    for course in event.courses:
        for order in course.orders:
            dish = None if order.dish is None else leaving.links.dish(order.dish)
            if dish is None or not order.without:
                continue
            for one in refusals(leaving, dish, order.without):
                labels = tuple(Label(span, words) for span, words in one.marks)
                found.append(Finding("cannot-leave-out", order.span, one.text, labels, (one.hint,)))
    return tuple(dict.fromkeys(found))


def _refusals(leaving: Leaving, dish: Dish, foods: tuple[str, ...]) -> Iterator[Refused]:
    named = leaving.named(dish, foods)
    there = []
    for food, name in zip(map(plain_name, foods), named, strict=True):
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
    yield from _together(leaving, dish, names)
    for food, name in there:
        yield from _within(leaving, dish, food, name, names)
    if names:
        yield from _measured_by(leaving, dish, names)


def _whole(leaving: Leaving, dish: Dish, food: str, names: tuple[str, ...]) -> Refused:
    marks = [
        (use.span, "this")
        for part in leaving.all_of(dish)
        for use in leaving.kept(part, ())
        if any(leaving.is_food(use, name, part) for name in names)
    ]
    results = {key for name in names for key in leaving.results(dish, name)}
    made = [thing for thing in dish.things if thing.key in results]
    marks += [(thing.origin, "this") for thing in made]
    if made and len(marks) == len(made):
        text = f"Nothing of {dish.title} is left without the {food}: the rest of it is made from that, or goes into nothing else."
    else:
        text = f"{dish.title} is made from {food}: with that left out nothing is left that could go by its name."
    return Refused(food, text, tuple(marks), "Order another dish for those plates.")


def _together(leaving: Leaving, dish: Dish, names: tuple[str, ...]) -> Iterator[Refused]:
    """A result whose food is used again further down: the one can't be had without the other."""
    for part in leaving.all_of(dish, names):
        for one in leaving.left(part, names).stuck:
            made, food = part.thing(one.thing), bare_name(one.food)
            yield Refused(
                made.name,
                f"The {made.name} of {part.title} can't be taken out: the {food} in it is used again elsewhere in the dish, "
                "so that what is in the one is in the other.",
                (
                    (made.origin, "made here"),
                    (one.food.span, "comes in with it"),
                    (one.wanted.span, "and is used here"),
                ),
                f"Bring in the {food} for each of them by itself, with its own amount; or leave out what it is made of, by its name.",
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
    ends = leaving.ends(dish, food)
    if ends:
        text = f"`without {food}` could mean several things in {dish.title}: {_or(sorted(ends))}."
        return Refused(food, text, tuple((span, "this?") for span in ends.values()), "Write its name in full.", True)
    wanted = normal_name(food)
    last = dish.strands[-1] if dish.strands else None
    if last is not None and last.heading and last.makes is None and strand_name(last) == wanted:
        return Refused(
            food,
            f"`{food}` is the part in which {dish.title} is put together, so it can't be taken out.",
            ((last.span, "this"),),
            "Leave out a food, or what another part or an arrow (`->`) makes, by its name.",
        )
    thrown = next(
        (t for part in leaving.all_of(dish) for t in part.things if t.discarded and normal_name(t.name) == wanted), None
    )
    if thrown is not None:
        text = f"The {thrown.name} is thrown away, so it is on no plate of {dish.title} to be left out."
        return Refused(food, text, ((thrown.origin, "made here"),), "Leave out the food itself, by its name.", True)
    known = _names(leaving, dish)
    near = nearest(wanted, sorted(known))
    hint = (
        f"Did you mean {_or([f'`without {known[name]}`' for name in near])}?"
        if near
        else "Check the name against the dish."
    )
    return Refused(food, f"Nothing called `{food}` is in {dish.title} to leave out.", (), hint, True)


def _names(leaving: Leaving, dish: Dish) -> dict[str, str]:
    """All that can be left out, by the form it is compared in."""
    known: dict[str, str] = {}
    for part in leaving.all_of(dish):
        for use in leaving.kept(part, ()):
            known.setdefault(normal_name(use.name), use.name)
        for name in results_by_name(part):
            known.setdefault(name, name)
        for thing in part.things:
            if normal_name(thing.name) in known:
                known[normal_name(thing.name)] = thing.name
    return known


def _or(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else names[0]
