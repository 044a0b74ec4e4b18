"""Makes the extract of SR28 that the tests hold the tables against: `python -m tests.larder.extract_sr28 FOLDER`.

FOLDER holds FOOD_DES.txt, WEIGHT.txt (Latin-1, `^` between fields, `~` around text) and ABBREV_sr28.csv as published. Only rows
that a figure of ours was read from are kept. Prints each figure that fits no published row, or several, and writes nothing of it.
"""

from __future__ import annotations

import csv
import sys
from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from tests.larder.sr28 import MADE_OF, REFUSE, WEIGHTS, Refuse, Weight, figures, fits, left, trimmed

HEAD = (
    "# USDA National Nutrient Database for Standard Reference, release 28 (2015), public domain.\n"
    "# Only the rows used, and by which names of ours. Made by extract_sr28.py.\n"
)


_ANALYSES = ("Water_(g)", "Protein_(g)", "Lipid_Tot_(g)", "Carbohydrt_(g)", "Fiber_TD_(g)", "Ash_(g)")


def _published(path: Path) -> Iterator[list[str]]:
    for line in path.read_text(encoding="latin-1").splitlines():
        yield [field.strip("~") for field in line.split("^")]


def main(folder: Path) -> int:
    """Write both extracts; the number of figures without a row of their own."""
    foods = {
        row[0]: Refuse(row[0], row[2], Fraction(row[8] or 0), row[7]) for row in _published(folder / "FOOD_DES.txt")
    }
    weights: defaultdict[str, list[Weight]] = defaultdict(list)
    for row in _published(folder / "WEIGHT.txt"):
        weights[row[0]].append(
            Weight(row[0], foods[row[0]].food, row[1], Fraction(row[2]), " ".join(row[3].split()), Fraction(row[4]))
        )
    bad: list[str] = []
    used: defaultdict[Weight, set[str]] = defaultdict(set)
    for figure in figures():
        found = [weight for weight in weights[figure.number] if fits(figure, weight)]
        if len(found) == 1:
            used[found[0]].add(figure.own)
            continue
        near = [weight for weight in weights[figure.number] if weight.grams == figure.grams] or weights[figure.number]
        said = ", ".join(f"{weight.amount} {weight.words} = {_plain(weight.grams)}" for weight in near)
        bad.append(f"{figure} of {foods.get(figure.number)}: {said}")
    cut: defaultdict[Refuse, set[str]] = defaultdict(set)
    for row in trimmed():
        refuse = foods[row.number]
        if left(refuse, row.less) == row.percent:
            cut[refuse].add(row.name)
        else:
            bad.append(f"{row}: {refuse}")
    with WEIGHTS.open("w", encoding="utf-8", newline="\n") as file:
        file.write(HEAD + "number\tfood\tseq\tamount\tmeasure\tgrams\tours\n")
        for one in sorted(used, key=lambda one: (one.number, int(one.seq))):
            names = "; ".join(sorted(used[one]))
            file.write("\t".join((*one[:3], _plain(one.amount), one.words, _plain(one.grams), names)) + "\n")
    with REFUSE.open("w", encoding="utf-8", newline="\n") as file:
        file.write(HEAD + "number\tfood\trefuse\tof\tours\n")
        for thrown in sorted(cut, key=lambda thrown: thrown.number):
            names = "; ".join(sorted(cut[thrown]))
            file.write("\t".join((*thrown[:2], _plain(thrown.percent), thrown.words, names)) + "\n")
    numbers = {figure.number for figure in figures() if figure.table == "density"}
    with (folder / "ABBREV_sr28.csv").open(encoding="latin-1", newline="") as table:
        analyses = {row["NDB_No"].zfill(5): row for row in csv.DictReader(table)}
    with MADE_OF.open("w", encoding="utf-8", newline="\n") as file:
        file.write(HEAD + "number\tfood\twater\tprotein\tfat\tcarbohydrate\tfibre\tash\n")
        for number in sorted(numbers & set(analyses)):
            cells = [analyses[number][column] or "0" for column in _ANALYSES]
            file.write("\t".join((number, foods[number].food, *cells)) + "\n")
    sys.stdout.write("".join(f"{line}\n" for line in bad))
    return len(bad)


def _plain(value: Fraction) -> str:
    return f"{float(value):.6g}"


if __name__ == "__main__":
    sys.exit(min(main(Path(sys.argv[1])), 1))
