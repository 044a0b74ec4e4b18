"""Which dish of the book a mark means."""

from __future__ import annotations

from recipec.larder.names import folded, normal_name
from recipec.model.book import Book
from recipec.model.dish import Dish, Role, Use


class Links:
    """Look-up of one book's dishes by key, and by name where a mark has no link: second choices (`or our ...`)."""

    __slots__ = ("_book", "_by_key", "_by_name")

    def __init__(self, book: Book) -> None:
        self._book = book
        self._by_key = {dish.key: dish for dish in book.dishes}
        self._by_name: dict[str, Dish] | None = None

    def dish(self, key: str) -> Dish | None:
        """The dish of a key."""
        return self._by_key.get(key)

    def named(self, words: str) -> Dish | None:
        """The dish of that file name, that title, or the only one whose title starts so."""
        if self._by_name is None:
            names: dict[str, Dish] = {}
            for dish in self._book.dishes:
                names.setdefault(_name(dish.title), dish)
            names.update((_name(dish.key), dish) for dish in self._book.dishes)
            self._by_name = names
        name = _name(words)
        exact = self._by_name.get(name)
        if exact is not None:
            return exact
        starts = [dish for dish in self._book.dishes if _name(dish.title).startswith(f"{name} ")]
        return starts[0] if len(starts) == 1 else None

    def meant(self, dish: Dish, use: Use) -> Dish | None:
        """The dish that a use (or a second choice) of `dish` means by `our`; None when it is not `our`, or there is none."""
        if use.role is not Role.OUR:
            return None
        first = use.number < len(dish.uses) and use is dish.uses[use.number]
        key = dish.link(use.number) if first else None
        return self._by_key.get(key) if key is not None else self.named(use.name)


def _name(text: str) -> str:
    return normal_name(folded(text).replace("-", " ").replace("_", " "))
