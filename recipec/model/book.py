"""All of a book, put together."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from recipec.model.dish import Dish
    from recipec.model.event import Event
    from recipec.model.kitchen import Kitchen
    from recipec.model.prices import Price
    from recipec.model.settings import Settings


class Book(NamedTuple):
    """Dishes, events and kitchens sorted by key; prices in the order of their rows."""

    settings: Settings
    dishes: tuple[Dish, ...]
    events: tuple[Event, ...]
    kitchens: tuple[Kitchen, ...]
    prices: tuple[Price, ...]

    def dish(self, key: str) -> Dish | None:
        """The dish of that key."""
        return next((dish for dish in self.dishes if dish.key == key), None)

    def event(self, key: str) -> Event | None:
        """The event of that key."""
        return next((event for event in self.events if event.key == key), None)

    def kitchen(self, key: str | None) -> Kitchen | None:
        """The kitchen of that key."""
        return next((kitchen for kitchen in self.kitchens if kitchen.key == key), None)
