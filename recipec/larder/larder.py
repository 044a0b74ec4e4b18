"""Look-up by name: the built-in table under the book's own rows.

A name is never matched by a part of it that leaves unknown words over: `coconut milk` is not milk.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from recipec.larder.ingredient import Ingredient
from recipec.larder.names import folded, match_key
from recipec.larder.stand_ins import StandIn, pairs, same_for_guests
from recipec.larder.tables import Stock
from recipec.larder.treatments import treatments

if TYPE_CHECKING:
    from recipec.larder.row import LarderRow


class Match(NamedTuple):
    """What a name means. `before` are the treatments that stood before it, in order, an adverb with its word
    (`finely chopped`). `unit` is the counted unit at its end: `garlic cloves` is garlic by the clove."""

    ingredient: Ingredient
    before: tuple[str, ...] = ()
    unit: str | None = None


class Larder:
    """Ingredients by name. Read-only; `with_rows` gives a new one."""

    __slots__ = ("_ends", "_index", "_own", "_stock")

    def __init__(self, stock: Stock, index: Mapping[str, str], own: Mapping[str, Ingredient]) -> None:
        # `index` is from `match_key` of any name to the key of its ingredient; `own` lies over `stock`.
        self._stock = stock
        self._index = index
        self._own = own
        self._ends: frozenset[str] | None = None

    def get(self, key: str) -> Ingredient | None:
        """The ingredient of a key."""
        return self._own.get(key) or self._stock.get(key)

    def all(self) -> tuple[Ingredient, ...]:
        """Every ingredient, sorted by key."""
        keys = sorted({*self._stock.keys(), *self._own})
        return tuple(item for key in keys if (item := self.get(key)) is not None)

    def names(self) -> tuple[str, ...]:
        """Every name and alias in index form, sorted: for suggestions."""
        return tuple(sorted(self._index))

    def ends(self, word: str) -> bool:
        """Whether the name of an ingredient ends in this word, or in its singular."""
        if self._ends is None:
            self._ends = frozenset(name.rpartition(" ")[2] for name in self._index)
        return match_key(word).rpartition(" ")[2] in self._ends

    def stand_ins(self, key: str) -> tuple[StandIn, ...]:
        """What can stand in for an ingredient in the same cooking; never what a guest's allergy or diet could tell apart, and so
        nothing any more where the book's own row says otherwise of one of them."""
        item = self.get(key)
        if item is None:
            return ()
        others = ((stand_in, self.get(stand_in.key)) for stand_in in pairs().get(key, ()))
        return tuple(stand_in for stand_in, other in others if other is not None and same_for_guests(item, other))

    def find(self, words: str) -> Match | None:
        """What a name means: the longest larder name at its end, when all before it are treatments. None when unknown."""
        parts = folded(words).split(" ")
        for start in range(len(parts)):
            match = self._exact(parts[start:])
            if match is None:
                continue
            before = treatments().take(tuple(parts[:start])) if start else ()
            return None if before is None else match._replace(before=before)
        return None

    def _exact(self, parts: list[str]) -> Match | None:
        item = self._named(parts)
        if item is not None:
            return Match(item)
        # `thyme sprigs`, `celery stick`: only units in which the larder weighs that thing.
        item = self._named(parts[:-1])
        unit = match_key(parts[-1])
        if item is None or unit == "piece" or all(each.unit != unit for each in item.each):
            return None
        return Match(item, unit=unit)

    def _named(self, parts: list[str]) -> Ingredient | None:
        key = self._index.get(match_key(" ".join(parts)))
        return None if key is None else self.get(key)

    def with_rows(self, rows: Iterable[LarderRow]) -> Larder:
        """A new larder with a book's rows over this one. What a row leaves blank stays as it is known here."""
        own, index = dict(self._own), dict(self._index)
        for row in rows:
            key = index.get(match_key(row.name))
            known = None if key is None else own.get(key) or self._stock.get(key)
            # A row for an alias makes a thing of its own of it, which may differ in what it contains.
            same = known if known is not None and match_key(known.name) == match_key(row.name) else None
            item = row.over(same, known)
            own[item.key] = item
            index[match_key(item.name)] = item.key
            for name in (item.plural, *row.aliases):
                index[match_key(name)] = item.key
        return Larder(self._stock, MappingProxyType(index), MappingProxyType(own))


@cache
def builtin() -> Larder:
    """The larder that comes with the program."""
    stock = Stock()
    return Larder(stock, stock.index(), MappingProxyType({}))
