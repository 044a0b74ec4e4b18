"""What the timeline knows of gear and verbs, and what it assumes where nothing is said: the tables in `data/`, read once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from recipec.plan.attend import Attend
from recipec.plan.figures import rows


@dataclass(frozen=True, slots=True)
class GearWork:
    """How a kind of gear works. `kind` is gear, tool, oven, hob, fridge or freezer; `attend` what its food asks for, None when it decides
    nothing; `hob` when it takes a burner; `heat` when it never runs with no cook on site; `wash` when it is washed between dishes."""

    kind: str = "gear"
    attend: Attend | None = None
    hob: bool = False
    heat: bool = False
    wash: bool = False


_PLAIN = GearWork()


@cache
def figure(name: str) -> Fraction:
    """An assumed figure, in the unit of its row. KeyError for a name that is not in the table."""
    return _figures()[name]


def seconds(name: str) -> int:
    """An assumed time."""
    return int(figure(name))


@cache
def _figures() -> Mapping[str, Fraction]:
    return MappingProxyType({name: Fraction(value) for name, value, _, _ in rows("timeline.tsv")})


@cache
def _gear() -> Mapping[str, GearWork]:
    return MappingProxyType(
        {
            name: GearWork(kind, Attend(attend) if attend else None, on == "hob", heat == "yes", wash == "yes")
            for name, kind, attend, on, heat, wash, _ in rows("gear_work.tsv")
        }
    )


def gear_work(key: str) -> GearWork:
    """By the longest last words of its key that the table has; plain gear otherwise."""
    words = key.split()
    for first in range(len(words)):
        known = _gear().get(" ".join(words[first:]))
        if known is not None:
            return known
    return _PLAIN


@cache
def verbs(kind: str, language: str = "en") -> frozenset[str]:
    """The words of a kind (see the table)."""
    return frozenset(word for word, its, _ in rows(f"verbs.{language}.tsv") if its == kind)
