"""Figures of the leftovers sheet and the safety log that are no figures of a dish, by the table `data/paper_limits.tsv`."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from recipec.plan.figures import rows

_MARKS = MappingProxyType({"S": "as published", "M": "from memory", "P": "common practice"})


class PaperLimit(NamedTuple):
    """°C or seconds, and where it comes from with how well that is known."""

    celsius: Fraction | None
    seconds: int | None
    source: str


@cache
def _table() -> Mapping[tuple[str, str], PaperLimit]:
    return MappingProxyType(
        {
            (rules, name): PaperLimit(
                Fraction(celsius) if celsius else None,
                int(seconds) if seconds else None,
                f"{section} ({_MARKS[mark]})",
            )
            for rules, name, celsius, seconds, section, mark in rows("paper_limits.tsv")
        }
    )


def paper_limit(rules: str, name: str) -> PaperLimit | None:
    """The figure of a rule set, else the one for all; None where neither has it."""
    return _table().get((rules, name)) or _table().get(("", name))
