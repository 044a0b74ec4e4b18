"""Which published measure a figure of ours was read from: the rules, shared by the extract's maker and by the test.

Source: USDA National Nutrient Database for Standard Reference, release 28 (2015), public domain.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from recipec.larder.table_text import rows

HERE = Path(__file__).parent
WEIGHTS = HERE / "sr28_weights.tsv"
REFUSE = HERE / "sr28_refuse.tsv"
MADE_OF = HERE / "sr28_composition.tsv"


class Figure(NamedTuple):
    """A row of ours: `grams` of `count` `unit`s in a `state` (a density) or of a `size` (one of it), from food `number`."""

    table: str
    name: str
    unit: str
    label: str
    grams: Fraction
    count: Fraction
    number: str

    @property
    def own(self) -> str:
        """What of ours it is: `egg`, `egg white`, `apple large`."""
        return f"{self.name} {self.label}".strip()


class Trimmed(NamedTuple):
    """A yield of ours in per cent; `less` says which part of the refuse alone was taken off, "" all of it."""

    name: str
    treatment: str
    percent: Fraction
    number: str
    less: str


class Weight(NamedTuple):
    """A published measure: `amount` of `words` weighs `grams`. `ours` are the names that read it, None before that is known."""

    number: str
    food: str
    seq: str
    amount: Fraction
    words: str
    grams: Fraction
    ours: frozenset[str] | None = None

    @property
    def count(self) -> Fraction:
        """How many whole ones that is."""
        return self.amount / 2 if self.words == "half" else self.amount


class Refuse(NamedTuple):
    """What of a food as purchased is refuse, in per cent, and what that is."""

    number: str
    food: str
    percent: Fraction
    words: str
    ours: frozenset[str] = frozenset()


class MadeOf(NamedTuple):
    """What 100 g of a food are made of, in grams. `carbohydrate` is by difference and holds the `fibre`."""

    number: str
    food: str
    water: Fraction
    protein: Fraction
    fat: Fraction
    carbohydrate: Fraction
    fibre: Fraction
    ash: Fraction


_SOURCE = re.compile(r"SR28 (\d{5})(?:, less ([\w ]+))?")

_UNITS = {
    "us_cup": r"cup\b",
    "us_tbsp": r"(tbsp|tablespoon)\b|envelope \(1 tbsp\)",
    "us_tsp": r"tsp\b",
    "us_floz": r"fl oz\b",
    "l": r"liter\b",
    "leaf": r".*(leaf|leaves)",
    "sprig": r"sprig",
    "clove": r"clove",
    "stalk": r"stalk",
    "stick": r"stalk",
    "rib": r"stalk",
    "head": r"head|bunch",
    "bunch": r"bunch",
    "ear": r"ear\b",
    "block": r"block",
    "slice": r"slice",
    "rasher": r"slice",
    "fillet": r"fillet|anchovy|piece|sardines",
    "cube": r".*cube",
    "sheet": r"sheet",
    "packet": r"packet",
    "tin": r"can\b",
    "can": r"can\b",
    "bar": r"bar\b",
    "wedge": r"wedge",
    "piece": r"(?!(cup|tbsp|tablespoon|tsp|fl oz|oz|lb|quart|NLEA|package|slice|leaf|leaves|container)\b)",
}
"""How the words of a published measure begin, by our unit. A piece is whatever is no measure and no slice."""

_STATES = {
    "chopped": "chopped|pieces|flowerets",
    "sliced": "slice|strips|rings",
    "cubed": "cube|chunk|pieces|diced",
    "diced": "diced|cubes",
    "grated": "grated|shredded",
    "shredded": "shredded",
    "mashed": "mashed|pureed",
    "puréed": "puree",
    "pitted": "without pits|pitted",
    "halved": "halves",
    "slivered": "slivered",
    "sifted": "sifted",
    "packed": "packed",
    "crumbled": "crumbled",
    "whipped": "whipped",
    "melted": "melted",
    "ground": "ground",
    "scooped": "dipped",
    "sections": "sections",
    "segmented": "sections",
    "shelled": "shelled|with liquid and clams|mussel",
    "drained": "drained",
    "flaked": "solid or chunks|sliced",
    "juice": "juice",
    "zest": "peel",
    "white": "white",
    "yolk": "yolk",
    "seed": "arils",
    "pulp": "pulp",
    "boiled": "boiled",
}
"""What a published measure or its food must say for our state."""

PLAIN = frozenset(
    {
        ("celeriac", "cubed"),
        ("garlic", "chopped"),
        ("garlic", "crushed"),
        ("ginger", "grated"),
        ("leek", "sliced"),
        ("mint", "chopped"),
        ("tofu", "cubed"),
    }
)
"""Where SR28 names no cut, and ours is the one that is measured so."""

SIZES = {
    "egg": "large",
    "olive": "large",
    "black olive": "large",
    "green olive": "large",
    "kalamata olive": "large",
    "scallop": "large",
    "prawn": "medium",
    "pitta": "large",
}
"""What size ours is when none is said, where that is not SR28's only or medium one. Eggs: SR28's own usual one."""

BY_WORDS = {("lemon", "large"): "2-3/8", ("plum tomato", ""): "plum"}
"""Kinds and sizes that SR28 gives by a diameter or a name."""

_YIELDS = re.compile(r"yields|^large$")


def figures() -> Iterator[Figure]:
    """Every figure of ours that names an SR28 measure."""
    for name, state, grams, count, unit, source in rows("density.tsv"):
        if match := _SOURCE.match(source):
            yield Figure("density", name, unit, state, Fraction(grams), Fraction(count), match[1])
    for name, unit, size, grams, count, _, source in rows("each.tsv"):
        if match := _SOURCE.match(source):
            yield Figure("each", name, unit, size, Fraction(grams), Fraction(count), match[1])
    for name, part, grams, unit, _, source in rows("part.tsv"):
        if match := _SOURCE.match(source):
            yield Figure("part", name, unit, part, Fraction(grams), Fraction(1), match[1])


def trimmed() -> Iterator[Trimmed]:
    """Every yield of ours that names an SR28 refuse, and the edible part of what is weighed without its rind."""
    for name, treatment, percent, source in rows("yield.tsv"):
        if match := _SOURCE.match(source):
            yield Trimmed(name, treatment, Fraction(percent), match[1], match[2] or "")
    for name, _, _, _, _, edible, source in rows("each.tsv"):
        if edible and (match := _SOURCE.match(source)):
            yield Trimmed(name, "", Fraction(edible), match[1], match[2] or "")


def fits(figure: Figure, weight: Weight) -> bool:
    """Whether ours says what the published measure says: number, grams, how many, of what, and how cut or how large."""
    if weight.ours is not None and figure.own not in weight.ours:
        return False
    same = (figure.number, figure.grams, figure.count) == (weight.number, weight.grams, weight.count)
    if figure.name == "scallop":
        # One published measure is of two large or of five small.
        same = (figure.number, figure.grams) == (weight.number, weight.grams)
        return same and f"{figure.count} {figure.label or 'large'}" in weight.words
    if not same:
        return False
    if figure.table == "part" and figure.label not in {"flesh", "seed"}:
        return figure.unit == "g" and _YIELDS.search(weight.words) is not None
    unit = "leaf" if figure.unit == "piece" and figure.name.endswith(" leaf") else figure.unit
    if figure.table == "part":
        # Where SR28 weighs a fruit without its refuse, that is its flesh.
        unit, figure = "piece" if unit == "g" else "", figure._replace(table="each", label="", unit="piece")
    if not re.match(_UNITS.get(unit, "(?!)"), weight.words):
        return False
    if figure.table == "density":
        said = f"{weight.words}; {weight.food}"
        plain = not figure.label or (figure.name, figure.label) in PLAIN
        return plain or re.search(_STATES.get(figure.label, "(?!)"), said, re.IGNORECASE) is not None
    by_words = BY_WORDS.get((figure.name, figure.label))
    if by_words is not None:
        return by_words in weight.words
    # `fillet, small` is a size, `raw slice` is none.
    found = re.search(r"\b(small|medium|large)\b", weight.words.partition("(")[0])
    size = found[1] if found else ""
    if figure.label:
        return size == figure.label
    return size in {"", "medium"} if figure.name not in SIZES else size in {"", SIZES[figure.name]}


def left(refuse: Refuse, less: str) -> Fraction | None:
    """Per cent left when all refuse is off, or only the part of it that is called `less`."""
    if not less:
        return 100 - refuse.percent
    for part in re.split("[,;]", refuse.words):
        number = re.search(r"(\d+)%", part)
        if less in part.lower() and number is not None:
            return 100 - Fraction(number[1])
    return None


def _table(path: Path) -> Iterator[list[str]]:
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    for line in lines[1:]:
        yield line.split("\t")


def read_weights() -> dict[str, list[Weight]]:
    """The extract's measures by number."""
    found: defaultdict[str, list[Weight]] = defaultdict(list)
    for number, food, seq, amount, words, grams, ours in _table(WEIGHTS):
        names = frozenset(ours.split("; "))
        found[number].append(Weight(number, food, seq, Fraction(amount), words, Fraction(grams), names))
    return dict(found)


def read_refuse() -> dict[str, Refuse]:
    """The extract's refuse by number."""
    return {
        row[0]: Refuse(row[0], row[1], Fraction(row[2]), row[3], frozenset(row[4].split("; ")))
        for row in _table(REFUSE)
    }


def read_made_of() -> dict[str, MadeOf]:
    """The extract's analyses by number."""
    return {row[0]: MadeOf(row[0], row[1], *(Fraction(cell) for cell in row[2:])) for row in _table(MADE_OF)}
