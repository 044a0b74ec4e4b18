"""Putting a book together: which dish `our` means, circles, what a dish must say to be drawn on, kitchens."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from recipec.analyse.context import Notes
from recipec.analyse.plain import amount_words
from recipec.base.finding import Finding, Fix, Label
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.larder.names import folded, normal_name
from recipec.measure.quantity import Amount
from recipec.model.book import Book
from recipec.model.dish import Dish, Role
from recipec.model.settings import Settings

if TYPE_CHECKING:
    from recipec.model.event import Event, Order
    from recipec.model.kitchen import Kitchen
    from recipec.model.prices import Price


class Linked(NamedTuple):
    """A book whose names all point somewhere, or to nothing with a finding."""

    book: Book
    findings: tuple[Finding, ...]


def link_book(
    settings: Settings,
    dishes: Iterable[Dish],
    events: Iterable[Event],
    kitchens: Iterable[Kitchen],
    prices: Iterable[Price],
) -> Linked:
    """All files of a book as one, whatever the order they come in."""
    notes = Notes()
    sorted_dishes = _unique(sorted(dishes, key=lambda dish: (dish.key, dish.span.source.name)), notes)
    names = _Names(sorted_dishes)
    linked = tuple(_link_dish(dish, names, notes) for dish in sorted_dishes)
    by_key = {dish.key: dish for dish in linked}
    _circles(linked, by_key, notes)
    for dish in linked:
        _check_draws(dish, by_key, notes)
    kitchen_list = tuple(sorted(kitchens, key=lambda kitchen: kitchen.key))
    event_list = tuple(
        _link_event(event, names, by_key, kitchen_list, notes) for event in sorted(events, key=lambda event: event.key)
    )
    return Linked(Book(settings, linked, event_list, kitchen_list, tuple(prices)), notes.done())


def _unique(dishes: list[Dish], notes: Notes) -> tuple[Dish, ...]:
    """Two files of one name in different folders would overwrite each other's page: the later is left out, and said."""
    first: dict[str, Dish] = {}
    for dish in dishes:
        other = first.setdefault(dish.key.casefold(), dish)
        if other is not dish:
            notes.add(
                "ambiguous-dish",
                dish.title_span,
                f"Two dishes are kept under the file name `{dish.key}`.",
                "Rename one of the files; the book takes the first until then.",
                labels=(Label(other.title_span, "the other one"),),
            )
    return tuple(first.values())


def _name(text: str) -> str:
    return folded(text).replace("-", " ").replace("_", " ")


class _Names:
    """Dishes by file name, title, and start of the title."""

    def __init__(self, dishes: Iterable[Dish]) -> None:
        self._dishes = tuple(dishes)
        self._keys: dict[str, list[Dish]] = {}
        for dish in self._dishes:
            for name in {
                _name(dish.key),
                _name(dish.title),
                normal_name(_name(dish.title)),
                normal_name(_name(dish.key)),
            }:
                self._keys.setdefault(name, []).append(dish)

    def find(self, written: str) -> tuple[Dish, ...]:
        """The dishes a name may mean: an exact one by file or title first, then those whose title starts so."""
        name = _name(written)
        exact = self._keys.get(name) or self._keys.get(normal_name(name))
        if exact:
            return tuple(exact)
        return tuple(dish for dish in self._dishes if _name(dish.title).startswith(f"{name} "))

    def near(self, written: str) -> tuple[str, ...]:
        """Titles and file names like this one."""
        shown = {name: dish.title for name, dishes in sorted(self._keys.items()) for dish in dishes}
        return tuple(dict.fromkeys(shown[name].lower() for name in nearest(_name(written), sorted(shown))))

    def resolve(self, written: str, span: Span, notes: Notes) -> Dish | None:
        """The one dish meant, or None after saying why there is none."""
        found = self.find(written)
        if len(found) == 1:
            return found[0]
        name_span = _within(span, written)
        if found:
            notes.add(
                "ambiguous-dish",
                name_span,
                f"`{written}` could be {_either([dish.title for dish in found])}.",
                f"Write the whole title, or the file's name: `{found[0].key}`.",
                labels=tuple(Label(dish.title_span, "this one?") for dish in found[:4]),
            )
            return None
        near = self.near(written)
        hints = [f"Did you mean `our {near[0]}`?"] if near else []
        notes.add(
            "no-such-dish",
            name_span,
            f"This book has no dish called `{written}`.",
            *hints,
            "A dish is named by its title, the start of its title, or its file's name."
            if not near
            else "If it is bought, write it without `our`.",
            fixes=tuple(Fix(name_span, other, f"write `{other}`") for other in near[:1]),
        )
        return None


def _within(span: Span, words: str) -> Span:
    """The last place in `span` where these words stand as written; all of it where they are folded over a line end."""
    start = span.text.rfind(words)
    return span if start < 0 else Span(span.source, span.start + start, span.start + start + len(words))


def _either(names: list[str]) -> str:
    return f"{', '.join(names[:-1])} or {names[-1]}"


def _link_dish(dish: Dish, names: _Names, notes: Notes) -> Dish:
    links = []
    for use in dish.uses:
        for choice in (use, *use.choices):
            if choice.role is not Role.OUR:
                continue
            target = names.resolve(choice.name, choice.span, notes)
            if target is not None and choice is use:
                links.append((use.number, target.key))
    return dish._replace(links=tuple(links))


# ---------------------------------------------------------------- circles


def _circles(dishes: tuple[Dish, ...], by_key: Mapping[str, Dish], notes: Notes) -> None:
    """Every circle of `our` once, printed as a circle; found without recursion, since a book may be deep."""
    done: set[str] = set()
    for root in dishes:
        if root.key in done:
            continue
        path: list[str] = []
        stack: list[tuple[str, bool]] = [(root.key, False)]
        while stack:
            key, leaving = stack.pop()
            if leaving:
                path.pop()
                done.add(key)
                continue
            if key in path:
                _circle([*path[path.index(key) :], key], by_key, notes)
                continue
            if key in done:
                continue
            path.append(key)
            stack.append((key, True))
            stack.extend((target, False) for _, target in reversed(by_key[key].links))


def _circle(path: list[str], by_key: Mapping[str, Dish], notes: Notes) -> None:
    arrows = " → ".join(by_key[key].title for key in path)
    spans = []
    for key, target in pairwise(path):
        dish = by_key[key]
        use = next(number for number, linked in dish.links if linked == target)
        spans.append((dish.uses[use].span, f"{dish.title} needs {by_key[target].title}"))
    notes.add(
        "going-in-circles",
        spans[0][0],
        f"These dishes need each other, round and round: {arrows}.",
        "Take one of them out of the circle: buy it, or split off what both need as a dish of its own.",
        labels=tuple(Label(span, text) for span, text in spans[1:]) or (Label(spans[0][0], spans[0][1]),),
    )


# ---------------------------------------------------------------- what is asked of a dish


def _check_draws(dish: Dish, by_key: Mapping[str, Dish], notes: Notes) -> None:
    for number, key in dish.links:
        use = dish.uses[number]
        if use.amount is not None:
            _check_amount(use.amount, use.span, by_key[key], notes)


def _check_amount(amount: Amount, span: Span, target: Dish, notes: Notes) -> None:
    """An amount of a dish needs a `makes` to hold it against; plates need `serves`, or how much goes on a plate."""
    asked = amount.contents() or amount.total()
    if asked is None:
        return
    if asked.unit.name == "plate":
        if target.serves is None and (target.makes is None or target.makes.plate is None):
            _unsaid(target, span, "how many it serves", "serves: 4", notes)
        return
    if target.makes is None:
        _unsaid(target, span, "how much it makes", f"makes: {amount_words(amount)}", notes)
        return
    made = target.makes.amount.contents() or target.makes.amount.total()
    if made is not None and made.unit.kind != asked.unit.kind:
        notes.add(
            "unit-mismatch",
            span,
            f"This asks for {amount_words(amount)}, but {target.title} makes {amount_words(target.makes.amount)}.",
            "Ask for it in the same kind of unit as its `makes`.",
            labels=(Label(target.title_span, f"makes {amount_words(target.makes.amount)}"),),
        )


def _unsaid(target: Dish, span: Span, what: str, line: str, notes: Notes) -> None:
    notes.add(
        "missing-fact",
        target.title_span,
        f"{target.title} is asked for by amount and does not say {what}.",
        f"Add a line under its title, like: `{line}`.",
        labels=(Label(span, "asked for here"),),
    )


# ---------------------------------------------------------------- events


def _link_event(
    event: Event, names: _Names, by_key: Mapping[str, Dish], kitchens: tuple[Kitchen, ...], notes: Notes
) -> Event:
    courses = []
    for course in event.courses:
        orders = tuple(_link_order(order, event, names, by_key, notes) for order in course.orders)
        courses.append(course._replace(orders=orders))
    return event._replace(courses=tuple(courses), kitchen=_kitchen(event, kitchens, notes))


def _link_order(order: Order, event: Event, names: _Names, by_key: Mapping[str, Dish], notes: Notes) -> Order:
    found = names.resolve(order.written, order.span, notes)
    if found is None:
        return order
    target = by_key[found.key]
    if order.amount is not None:
        _check_amount(order.amount, order.span, target, notes)
    elif target.serves is None and (target.makes is None or target.makes.plate is None):
        _unsaid(target, order.span, "how many it serves", "serves: 4", notes)
    return order._replace(dish=target.key)


def _kitchen(event: Event, kitchens: tuple[Kitchen, ...], notes: Notes) -> str | None:
    if event.kitchen is None:
        return None
    wanted = _name(event.kitchen)
    for kitchen in kitchens:
        if wanted in (_name(kitchen.key), _name(kitchen.title)):
            return kitchen.key
    known = sorted({_name(name) for kitchen in kitchens for name in (kitchen.key, kitchen.title)})
    near = nearest(wanted, known)
    notes.add(
        "no-such-kitchen",
        event.kitchen_span or event.title_span,
        f"This event is in a kitchen called `{event.kitchen}`, and the book has none of that name.",
        f"Did you mean `{near[0]}`?" if near else f"Write a file `{event.kitchen.replace(' ', '-')}.kitchen`.",
        *([f"The book's kitchens: {', '.join(kitchen.key for kitchen in kitchens)}."] if kitchens and not near else []),
    )
    return None
