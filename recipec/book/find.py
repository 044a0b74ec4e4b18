"""Finding a dish or an event of a book by what a person types."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Generic, NamedTuple, TypeVar

from recipec.base.suggest import nearest
from recipec.larder.names import folded
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.event import Event

T = TypeVar("T", Dish, Event)


class Found(NamedTuple, Generic[T]):
    """`value` is the one meant; when it is None, `near` holds the keys of those that could be."""

    value: T | None
    near: tuple[str, ...]


def find_dish(book: Book, words: str) -> Found[Dish]:
    """A dish by its file's name, its title, or the only title that starts so."""
    return _find(book.dishes, words, "dish")


def find_event(book: Book, words: str) -> Found[Event]:
    """An event, likewise."""
    return _find(book.events, words, "event")


def _find(all_of: tuple[T, ...], words: str, ending: str) -> Found[T]:
    # A path typed from habit names the file; its folder says nothing more.
    wanted = _plain(words.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(f".{ending}"))
    tries: tuple[Callable[[T], bool], ...] = (
        lambda one: _plain(one.key) == wanted,
        lambda one: _plain(one.title) == wanted,
        lambda one: bool(wanted) and _plain(one.title).startswith(wanted),
    )
    for fits in tries:
        found = [one for one in all_of if fits(one)]
        if len(found) == 1:
            return Found(found[0], ())
        if found:
            return Found(None, tuple(one.key for one in found))
    return Found(None, _near(all_of, wanted))


def _near(all_of: Iterable[T], wanted: str) -> tuple[str, ...]:
    names = {_plain(name): one.key for one in all_of for name in (one.title, one.key)}
    return tuple(dict.fromkeys(names[name] for name in nearest(wanted, sorted(names))))


def _plain(text: str) -> str:
    return folded(text).replace("-", " ").replace("_", " ").strip()
