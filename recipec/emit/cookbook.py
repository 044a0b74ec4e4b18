"""The cookbook's front: its home page and the indexes by course and by ingredient."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from recipec.emit.desk import Desk, page_name
from recipec.emit.paths import COURSES, HOME, INGREDIENTS
from recipec.emit.request import Paper
from recipec.emit.when import day_text
from recipec.larder.ingredient import ALLERGENS
from recipec.model.event import Event
from recipec.plan.sheet import DishSheet, IngredientLine

CONTENTS = ("base.css", "contents.css")
# The order of a meal, by words a cook may use for a course; others follow by name, and dishes without one come last.
_MEAL = (
    "breakfast", "canape", "canapé", "bite", "bites", "snack", "bread", "starter", "first", "soup", "salad",
    "pasta", "fish", "main", "side", "cheese", "dessert", "pudding", "cake", "petits fours", "drink",
    "sauce", "dressing", "component", "stock", "basic",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class DishLink:
    """A line of a contents page. `href` is from the output folder; `much` what the dish serves or makes."""

    title: str
    href: str
    much: str


@dataclass(frozen=True, slots=True)
class EventLink:
    """A line for a booking."""

    title: str
    href: str
    when: str


@dataclass(frozen=True, slots=True)
class Chapter:
    """A course and its dishes."""

    name: str
    dishes: tuple[DishLink, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """An ingredient and the dishes it is in."""

    name: str
    dishes: tuple[DishLink, ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter of the index; `id` is its place on the page."""

    name: str
    id: str
    entries: tuple[Entry, ...]


def home(desk: Desk) -> tuple[Paper, ...]:
    """The home page: title, bookings, contents by course, and how to read a page."""
    events = tuple(
        EventLink(event.title, desk.paths.event(event.key), _day(desk, event))
        for event in sorted(
            desk.book.events,
            key=lambda event: (event.serve is None, event.serve and event.serve.isoformat(), event.key),
        )
    )
    return (
        desk.paper(
            HOME,
            "home.html",
            CONTENTS,
            kind="home",
            events=events,
            chapters=chapters(desk),
            free_groups=ALLERGENS,
            scripts=("figures.js", "dishes.js", "find.js"),
        ),
    )


def _day(desk: Desk, event: Event) -> str:
    return day_text(event.serve, desk.tongue.code) if event.serve else ""


def courses(desk: Desk) -> tuple[Paper, ...]:
    """The index by course."""
    return (desk.paper(COURSES, "courses.html", CONTENTS, kind="courses", chapters=chapters(desk)),)


def ingredients(desk: Desk) -> tuple[Paper, ...]:
    """The index by ingredient, with what is made in house among it."""
    return (desk.paper(INGREDIENTS, "ingredients.html", CONTENTS, kind="ingredients", letters=letters(desk)),)


def much(sheet: DishSheet) -> str:
    """What a dish serves and makes, in words."""
    return ", ".join(part for part in (sheet.plates_text, sheet.makes) if part)


def link(desk: Desk, key: str) -> DishLink:
    """The line that leads to a dish."""
    sheet = desk.sheets[key]
    return DishLink(sheet.title, desk.paths.dish(key), much(sheet))


def chapters(desk: Desk) -> tuple[Chapter, ...]:
    """All dishes by course, in the order of a meal, and by title."""
    by_course: dict[str, list[DishSheet]] = {}
    for sheet in desk.sheets.values():
        by_course.setdefault(" ".join(sheet.course.split()).casefold(), []).append(sheet)
    return tuple(
        Chapter(
            _capital(by_course[course][0].course) or desk.tongue.say("Without a course"),
            tuple(link(desk, sheet.key) for sheet in by_title(by_course[course])),
        )
        for course in sorted(by_course, key=_course_place)
    )


def letters(desk: Desk) -> tuple[Letter, ...]:
    """All ingredients by letter. A dish's alternatives are listed too: they may be what is in the house."""
    names: dict[str, str] = {}
    found: dict[str, dict[str, None]] = {}
    for sheet in desk.sheets.values():
        for line in _lines(sheet.ingredients):
            key = line.item or line.name.casefold()
            shown = _in_index(desk, line)
            if min(shown, names.setdefault(key, shown)) == shown:
                names[key] = shown
            found.setdefault(key, {})[sheet.key] = None
    entries: dict[str, list[Entry]] = {}
    for key in sorted(found, key=lambda key: (sort_text(names[key]), key)):
        dishes = tuple(link(desk, sheet.key) for sheet in by_title([desk.sheets[dish] for dish in found[key]]))
        entries.setdefault(_letter(names[key]), []).append(Entry(_capital(names[key]), dishes))
    # `#` sorts before the letters; a book's index has it last.
    order = sorted(entries, key=lambda name: (name == "#", name))
    return tuple(Letter(name, f"letter-{place}", tuple(entries[name])) for place, name in enumerate(order, 1))


def sort_text(text: str) -> str:
    """What a name is sorted by, whatever the locale: accents and case aside."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in apart if not unicodedata.combining(char))


def index_names(desk: Desk, sheet: DishSheet) -> tuple[str, ...]:
    """The names by which a dish's ingredients stand in the index, each once."""
    return tuple(dict.fromkeys(_in_index(desk, line) for line in _lines(sheet.ingredients)))


def _in_index(desk: Desk, line: IngredientLine) -> str:
    known = desk.request.larder.get(line.item) if line.item is not None else None
    return line.name if known is None else known.plural or known.name


def _lines(lines: Iterable[IngredientLine]) -> Iterable[IngredientLine]:
    for line in lines:
        yield line
        yield from _lines(line.alternatives)


def by_title(sheets: Iterable[DishSheet]) -> list[DishSheet]:
    """Dishes in the order of an index."""
    return sorted(sheets, key=lambda sheet: (sort_text(sheet.title), sheet.title, sheet.key))


def _course_place(course: str) -> tuple[int, int, str]:
    if not course:
        return (2, 0, "")
    single = course.removesuffix("s")
    place = next((place for place, name in enumerate(_MEAL) if name in (course, single)), None)
    return (1, 0, course) if place is None else (0, place, course)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _letter(name: str) -> str:
    first = sort_text(name)[:1].upper()
    return first if first.isalpha() else "#"


def page_title(desk: Desk, title: str) -> str:
    """The name of a page of the book."""
    return page_name(title, desk.book.settings.title)
