"""Where each paper lies in the output folder. Names come from cooks' file names, so nothing of them is trusted."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from recipec.model.book import Book

HOME = "index.html"
COURSES = "courses.html"
INGREDIENTS = "ingredients.html"

_NOT_PLAIN = re.compile(r"[^a-z0-9]+")
_LONGEST = 80
# Device names that a Windows disk refuses whatever the ending.
_DEVICES = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})


def slug(text: str) -> str:
    """A plain file name, without ending, made of `text`: a-z, 0-9 and single hyphens, at most 80; 'unnamed' when nothing is left."""
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    plain = _NOT_PLAIN.sub("-", letters)[:_LONGEST].strip("-")
    if plain in _DEVICES:
        return f"{plain}-"
    return plain or "unnamed"


def slugs(keys: Iterable[str]) -> Mapping[str, str]:
    """A file name for every key, all different whatever the case.

    A key that shares its slug with another gets a few digits of its own hash, unless it is its own slug: so a file keeps
    its name when other dishes come and go.
    """
    names = {key: slug(key) for key in sorted(set(keys))}
    sharers = Counter(names.values())
    return MappingProxyType(
        {key: name if sharers[name] == 1 or key == name else _told_apart(key, name) for key, name in names.items()}
    )


def _told_apart(key: str, name: str) -> str:
    digest = hashlib.sha256(key.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    return f"{name}-{digest}"


@dataclass(frozen=True, slots=True)
class Paths:
    """Paths of one book's papers, relative to the output folder, by key."""

    dishes: Mapping[str, str]
    events: Mapping[str, str]

    def dish(self, key: str) -> str:
        """The page of a dish."""
        return f"dishes/{self.dishes[key]}.html"

    def card(self, key: str) -> str:
        """The card of a dish."""
        return f"cards/{self.dishes[key]}.html"

    def version(self, key: str, without: tuple[str, ...]) -> str:
        """The card of a dish without some foods, in a folder of the dish's own."""
        text = " and ".join(without)
        name = slug(text)
        # Two foods may come to one plain name.
        plain = name if name == text.replace(" ", "-") else _told_apart(text, name)
        return f"cards/{self.dishes[key]}/without-{plain}.html"

    def photo(self, key: str, ending: str) -> str:
        """The picture of a dish."""
        return f"assets/photos/{self.dishes[key]}.{ending}"

    def event(self, key: str, paper: str = "index.html") -> str:
        """A paper of an event."""
        return f"events/{self.events[key]}/{paper}"


def paths(book: Book) -> Paths:
    """The paths of a book."""
    return Paths(slugs(dish.key for dish in book.dishes), slugs(event.key for event in book.events))


def up(path: str) -> str:
    """What leads from a paper back to the output folder: '' or '../' as often as needed."""
    return "../" * path.count("/")
