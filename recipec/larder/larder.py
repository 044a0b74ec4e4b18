"""Look-up by name: the built-in table under the book's own rows.

A name is never matched by a part of it that leaves unknown words over: `coconut milk` is not milk.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import NamedTuple

from recipec.larder.ingredient import Ingredient
from recipec.larder.names import folded, match_key
from recipec.larder.tables import Treatments, ingredients, treatments


class Match(NamedTuple):
    """What a name means. `before` are the treatments that stood before it, in order, an adverb with its word
    (`finely chopped`). `unit` is the counted unit at its end: `garlic cloves` is garlic by the clove."""

    ingredient: Ingredient
    before: tuple[str, ...] = ()
    unit: str | None = None


class Larder:
    """Ingredients by name. Read-only; `with_rows` gives a new one."""

    __slots__ = ("_by_key", "_index", "_treatments")

    def __init__(self, stock: Iterable[Ingredient], words: Treatments) -> None:
        self._by_key: Mapping[str, Ingredient] = {item.key: item for item in stock}
        self._treatments = words
        index: dict[str, str] = {}
        for item in self._by_key.values():
            for name in (item.name, item.plural, *item.aliases):
                index.setdefault(match_key(name), item.key)
        # A thing's own name wins over another's alias.
        index.update((match_key(item.name), item.key) for item in self._by_key.values())
        self._index: Mapping[str, str] = index

    def get(self, key: str) -> Ingredient | None:
        """The ingredient of a key."""
        return self._by_key.get(key)

    def all(self) -> tuple[Ingredient, ...]:
        """Every ingredient, sorted by key."""
        return tuple(self._by_key[key] for key in sorted(self._by_key))

    def names(self) -> tuple[str, ...]:
        """Every name and alias in index form, sorted: for suggestions."""
        return tuple(sorted(self._index))

    def find(self, words: str) -> Match | None:
        """What a name means: the longest larder name at its end, when all before it are treatments. None when unknown."""
        parts = folded(words).split(" ")
        for start in range(len(parts)):
            key = self._index.get(match_key(" ".join(parts[start:])))
            unit = None
            if key is None and start < len(parts) - 1:
                key, unit = self._by_unit(parts[start:])
            if key is not None:
                before = self._treatments.take(tuple(parts[:start]))
                return None if before is None else Match(self._by_key[key], before, unit)
        return None

    def _by_unit(self, parts: list[str]) -> tuple[str | None, str | None]:
        # `thyme sprigs`, `celery stick`: only for units in which the larder weighs that thing.
        unit = match_key(parts[-1])
        key = self._index.get(match_key(" ".join(parts[:-1])))
        if key is not None and unit != "piece" and any(each.unit == unit for each in self._by_key[key].each):
            return key, unit
        return None, None

    def with_rows(self, rows: Iterable[Ingredient]) -> Larder:
        """A new larder with a book's ingredients over these; a row of the same key replaces the whole ingredient.

        `book_rows.read_larder_csv` has already completed each row from what stands here.
        """
        merged = dict(self._by_key)
        merged.update((row.key, row) for row in rows)
        return Larder(merged.values(), self._treatments)


@cache
def builtin() -> Larder:
    """The larder that comes with the program."""
    return Larder(ingredients(), treatments())
