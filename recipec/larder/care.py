"""What a cook handles with care when a dish is made larger or smaller, by name. Common practice; see `data/care.tsv`."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from recipec.larder.names import match_key
from recipec.larder.table_text import rows


class Care(StrEnum):
    """Why. `PLAIN` is no reason: of most things, and of those whose names only look like another's (wild garlic)."""

    PLAIN = "plain"
    SALT = "salt"
    SALTY = "salty"
    LEAVENING = "leavening"
    GELLING = "gelling"
    NITRITE = "nitrite"
    CHILLI = "chilli"
    GARLIC = "garlic"
    SPICE = "spice"
    ALCOHOL = "alcohol"

    @property
    def strict(self) -> bool:
        """Whether it is shown within the narrower bound."""
        return self in (Care.SALT, Care.LEAVENING, Care.GELLING, Care.NITRITE)

    @property
    def tasted(self) -> bool:
        """Whether its strength is judged by mouth, for it does not follow the sum."""
        return self in (Care.SALT, Care.SALTY, Care.CHILLI, Care.GARLIC, Care.SPICE, Care.ALCOHOL)


@cache
def _table() -> Mapping[str, Care]:
    return MappingProxyType({match_key(name): Care(kind) for name, kind in rows("care.tsv")})


@cache
def care_of(name: str) -> Care:
    """The care that a name asks for: by its longest ending in the table, so that `wine vinegar` is no wine and `salt cod` no salt."""
    table = _table()
    words = match_key(name).split()
    endings = (" ".join(words[start:]) for start in range(len(words)))
    return next((table[ending] for ending in endings if ending in table), Care.PLAIN)
