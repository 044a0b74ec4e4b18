"""Writes factors.tsv from units.txt by pint's registry: `python -m recipec.measure.generate`.

Run by us when units.txt changes; a test holds the shipped table equal to a fresh one. The only importer of pint.
"""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pint

_HERE = Path(__file__).resolve().parent
UNITS = _HERE / "units.txt"
FACTORS = _HERE / "factors.tsv"

_DIMENSIONS = {"mass": "mass", "volume": "volume", "time": "time", "length": "length", "power": "power"}
_DEFINITION = re.compile(r"^([A-Za-z_]+) *=", re.MULTILINE)


def registry() -> pint.UnitRegistry[Fraction]:
    """pint's registry of the kitchen's units, with exact fractions."""
    return pint.UnitRegistry(str(UNITS), non_int_type=Fraction, cache_folder=None)


def factors() -> str:
    """The text of factors.tsv: key, dimension (`count` for every counted kind), exact factor to the base, in file order."""
    known = registry()
    lines = ["key\tdimension\tfactor"]
    for key in _DEFINITION.findall(UNITS.read_text(encoding="utf-8")):
        base = known.Quantity(Fraction(1), key).to_base_units()
        (name,) = base.dimensionality
        dimension = _DIMENSIONS.get(name.strip("[]"), "count")
        lines.append(f"{key}\t{dimension}\t{Fraction(base.magnitude)}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    FACTORS.write_text(factors(), encoding="utf-8", newline="\n")
