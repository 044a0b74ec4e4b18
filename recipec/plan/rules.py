"""The rule sets of food safety, each figure a row of `data/rules.tsv` with its section and where it was read.

Nothing here replaces the local code: `follow` is the sentence that goes with every paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from recipec.measure.show_reading import show_temperature
from recipec.measure.temperature import celsius_to_fahrenheit, fahrenheit_to_celsius
from recipec.plan.figures import rows

_PROBE_S = 30
"""Common practice: a probe is left in until it stands still, which takes half a minute; a rule that asks for longer needs a stated time."""

_MARKS = MappingProxyType({"S": "as published", "M": "from memory", "P": "common practice"})

Rules = str
"""`us-food-code` or `uk`: a value of the setting `safety`."""


class Limit(NamedTuple):
    """One row: a temperature in °C (and as the rule itself prints it in °F, None where it does not), and seconds; None where it has none.
    `mark` is S (read in a published source), M (from memory) or P (common practice)."""

    celsius: Fraction | None
    fahrenheit: Fraction | None
    seconds: int | None
    section: str
    mark: str
    note: str

    @property
    def source(self) -> str:
        """The section, and how it is known."""
        return f"{self.section} ({self.mark_words})"

    @property
    def mark_words(self) -> str:
        """How it is known, in words."""
        return _MARKS[self.mark]


class Core(NamedTuple):
    """A reading inside food: degrees of `scale` (C or F), and the seconds it is kept there, None where nothing is said of them."""

    degrees: Fraction
    scale: str
    seconds: Fraction | None

    @property
    def celsius(self) -> Fraction:
        """Exact."""
        return self.degrees if self.scale == "C" else fahrenheit_to_celsius(self.degrees)


@dataclass(frozen=True, slots=True)
class Edition:
    """What a rule set is called, and how well it is known."""

    name: str
    mark: str
    note: str


@cache
def _table() -> Mapping[tuple[str, str, str], tuple[Limit, ...]]:
    found: dict[tuple[str, str, str], tuple[Limit, ...]] = {}
    for rules, rule, kind, celsius, fahrenheit, seconds, section, mark, note in rows("rules.tsv"):
        limit = Limit(
            Fraction(celsius) if celsius else None,
            Fraction(fahrenheit) if fahrenheit else None,
            int(seconds) if seconds else None,
            section,
            mark,
            note,
        )
        found[rules, rule, kind] = (*found.get((rules, rule, kind), ()), limit)
    return MappingProxyType(found)


def rule_sets() -> tuple[Rules, ...]:
    """All there are."""
    return tuple(dict.fromkeys(rules for rules, _, _ in _table()))


def edition(rules: Rules) -> Edition:
    """What a rule set is called. KeyError for one there is not."""
    (limit,) = _table()[rules, "edition", ""]
    return Edition(limit.section, limit.mark, limit.note)


LOCAL = "Follow your local code and your own licence and training; this is not a substitute."
"""What goes with every figure that is told to a cook."""


def follow(rules: Rules) -> str:
    """The sentence every paper on safety carries."""
    known = edition(rules)
    return f"By {known.name} ({known.note}). {LOCAL}"


def limits(rules: Rules, rule: str, kind: str = "") -> tuple[Limit, ...]:
    """The rows of a rule for a kind of food, one of which is enough; () where the set asks nothing."""
    return _table().get((rules, rule, kind), ())


def limit(rules: Rules, rule: str, kind: str = "") -> Limit | None:
    """The only row of a rule, or the first; None where the set has none."""
    return next(iter(limits(rules, rule, kind)), None)


def met(choices: Iterable[Limit], cores: Iterable[Core]) -> bool:
    """Whether one of the readings satisfies one of the rows. Without a stated time a reading counts for the half minute a probe takes."""
    known = tuple(cores)
    return any(_met(choice, core) for choice in choices for core in known)


def _met(choice: Limit, core: Core) -> bool:
    if choice.celsius is None:
        return True
    if core.scale == "F":
        own = choice.fahrenheit if choice.fahrenheit is not None else celsius_to_fahrenheit(choice.celsius)
        hot = core.degrees >= own
    else:
        hot = core.degrees >= choice.celsius
    return hot and (core.seconds if core.seconds is not None else _PROBE_S) >= (choice.seconds or 0)


def degrees(row: Limit) -> str:
    """A row's temperature in words, one that has one."""
    assert row.celsius is not None
    return show_temperature(row.celsius)


def sources(rows: Iterable[Limit | None]) -> str:
    """Where these rows stand, each once, as a sentence."""
    return "; ".join(dict.fromkeys(row.source for row in rows if row is not None)) + "."
