"""The figures and words by which amounts are rounded and worded, as plain data, so that a page's script can do the same.

Nothing is written here twice: all comes from the tables that `show.py`, `wording.py` and `rounding.py` go by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TypeAlias

from recipec.measure import rounding, show, wording
from recipec.measure.language import Language
from recipec.measure.numerals import VULGAR
from recipec.measure.quantity import Dimension
from recipec.measure.units import NOMINAL, bare, keys, unit

Data: TypeAlias = "str | int | bool | Sequence[Data] | Mapping[str, Data] | None"

_SIZES = ("small", "medium", "large", "heaped", "level", "scant")


def figures(tongue: Language) -> dict[str, Data]:
    """By name. Fractions are texts (`3/100`); a word has one form, or its singular and its plural (`cup|cups`).

    `units` are [dimension, factor to its base, key without region where that differs], `counts` those that are counted, one by one;
    `several` and `beyond` say from how many on a plural stands: `Language.many`.
    """
    shown = [key for key in keys() if unit(key).dimension is not Dimension.POWER]
    bare_keys = sorted({bare(unit(key)) for key in shown} - {"piece"})
    words = {key: _forms(wording.word(key, False, tongue), wording.word(key, True, tongue)) for key in bare_keys}
    # One and a half are one in some languages.
    beyond = tongue.many(Fraction(3, 2))
    return {
        "units": {key: _unit(key) for key in shown if not _counted(key)},
        "counts": " ".join(key for key in shown if _counted(key)),
        "words": {key: "|".join(forms) for key, forms in words.items() if forms != (key,)},
        "nominal": {key: wording.worded("1", key, False, tongue) for key in sorted(NOMINAL)},
        "sizes": {
            size: "|".join(_forms(*(tongue.form(size, size, several, context="size") for several in (False, True))))
            for size in _SIZES
        },
        "mark": tongue.mark,
        "several": 1 if beyond else 2,
        "beyond": beyond,
        "vulgar": {str(value): sign for value, sign in VULGAR.items()},
        "single": sorted(number for number in ("1", *VULGAR.values()) if wording.single(number)),
        "limits": {
            "strict": str(rounding.STRICT),
            "loose": str(rounding.LOOSE),
            "farOff": str(rounding.FAR_OFF),
            "exempt": str(rounding.EXEMPT_BELOW),
            "finest": str(rounding.FINEST),
            "spoons": str(show.SPOONS),
        },
        "steps": _rows(rounding.STEPS),
        "finer": [str(step) for step in rounding.FINER],
        "shop": _rows(show.SHOP_STEPS),
        "parts": {
            "halves": _texts(rounding.HALVES),
            "quarters": _texts(rounding.QUARTERS),
            "thirds": _texts(rounding.QUARTERS_AND_THIRDS),
            "eighths": _texts(rounding.EIGHTHS),
            "whole": _texts(rounding.WHOLE),
        },
        "spoons": {system: list(pair) for system, pair in wording.SPOON_SETS.items()},
        "decimals": sorted(show.DECIMALS),
        "byEye": sorted(show.BY_EYE),
    }


def _counted(key: str) -> bool:
    return unit(key).dimension is Dimension.COUNT and unit(key).factor == 1


def _unit(key: str) -> list[Data]:
    of = unit(key)
    row: list[Data] = [of.dimension.value, str(of.factor)]
    return row if bare(of) == key else [*row, bare(of)]


def _forms(one: str, many: str) -> tuple[str, ...]:
    return (one,) if one == many else (one, many)


def _texts(values: Sequence[Fraction]) -> list[Data]:
    return [str(value) for value in values]


def _rows(rows: Sequence[tuple[Fraction, Fraction]]) -> list[Data]:
    return [[str(start), str(step)] for start, step in rows]
