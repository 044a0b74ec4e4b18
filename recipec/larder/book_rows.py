"""Reads a book's larder.csv: each row a `LarderRow`, each fault a finding with the place of its cell.

Header: `name,plural,aliases,department,density,each,yield,parts,allergens,animal,source`, in any order; `name` alone is needed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from recipec.base.finding import Finding
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.larder.ingredient import ALLERGENS, ANIMAL, DEPARTMENTS
from recipec.larder.names import folded, match_key, normal_name
from recipec.larder.row import LarderRow
from recipec.larder.treatments import loses
from recipec.measure.quantity import Dimension
from recipec.measure.units import keys, unit

COLUMNS = (
    "name",
    "plural",
    "aliases",
    "department",
    "density",
    "each",
    "yield",
    "parts",
    "allergens",
    "animal",
    "source",
)

_FIELD = re.compile(r'"((?:[^"]|"")*)"?|([^,\r\n]*)')
_FIGURE = re.compile(r"(?P<words>[^\d.]*)(?P<number>\d{1,6}(?:\.\d{1,6})?)\s*(?P<unit>kg|g/ml|g)?")
_LEFT = re.compile(r"(?P<words>[^\d%]*)(?P<number>\d{1,3}(?:\.\d{1,6})?)\s*%")
_PART = re.compile(r"(?P<words>[^\d.]*)(?P<number>\d{1,6}(?:\.\d{1,6})?)\s*(?P<unit>kg|g|ml|l)")
_SIZES = ("small", "medium", "large")


class Cell(NamedTuple):
    """A field's text, quotes taken off, and where it stands."""

    text: str
    span: Span


def read_larder_csv(source: Source) -> tuple[tuple[LarderRow, ...], tuple[Finding, ...]]:
    """The rows that can be read, and a `bad-row` for every cell that can't. A row with a fault is left out whole, since half
    a fact about an allergen is worse than none."""
    lines = [cells for cells in _lines(source) if any(cell.text.strip() for cell in cells)]
    if not lines:
        return (), ()
    columns = {folded(cell.text): place for place, cell in enumerate(lines[0])}
    findings = [
        _bad(cell, f"`{cell.text}` is no column of larder.csv.", f"The columns are {', '.join(COLUMNS)}.")
        for cell in lines[0]
        if folded(cell.text) not in COLUMNS
    ]
    if "name" not in columns:
        first = lines[0][0].span.to(lines[0][-1].span)
        return (), (
            Finding(
                "bad-row", first, "larder.csv has no column `name`.", hints=(f"Begin it with {','.join(COLUMNS)}",)
            ),
        )
    rows: list[LarderRow] = []
    seen: dict[str, Span] = {}
    for cells in lines[1:]:
        reader = _Reader({name: cells[place] for name, place in columns.items() if place < len(cells)}, cells[0])
        row = reader.row()
        if row is not None and match_key(row.name) in seen:
            reader.bad("name", f"`{row.name}` stands twice in larder.csv.", "Put all of it in one row.")
        if len(cells) > len(lines[0]):
            reader.findings.append(_bad(cells[len(lines[0])], "This row has more cells than the first one.", _COMMA))
        findings += reader.findings
        if row is not None and not reader.findings:
            rows.append(row)
            seen[match_key(row.name)] = cells[0].span
    return tuple(rows), tuple(findings)


_COMMA = "Put a cell that holds a comma in double quotes."


def _bad(cell: Cell, message: str, hint: str) -> Finding:
    return Finding("bad-row", cell.span, message, hints=(hint,))


def _lines(source: Source) -> Iterator[list[Cell]]:
    """Fields by RFC 4180, with their places; a quoted field may hold commas and line ends."""
    text, place = source.text, 0
    row: list[Cell] = []
    while place <= len(text):
        match = _FIELD.match(text, place)
        assert match is not None  # it matches the empty text
        quoted, plain = match.group(1), match.group(2)
        value = plain if quoted is None else quoted.replace('""', '"')
        end = match.end()
        if quoted is not None:
            # Anything between the closing quote and the comma belongs to no cell a spreadsheet writes; it is kept as text.
            while end < len(text) and text[end] not in ",\r\n":
                value += text[end]
                end += 1
        row.append(Cell(value.strip(), Span(source, place, end)))
        place = end
        if place < len(text) and text[place] == ",":
            place += 1
            continue
        yield row
        row = []
        place += 2 if text.startswith("\r\n", place) else 1


class _Reader:
    """Reads the cells of one row, gathering what is wrong with them."""

    def __init__(self, cells: dict[str, Cell], first: Cell) -> None:
        self.cells = cells
        self.first = first
        self.findings: list[Finding] = []

    def bad(self, column: str, message: str, hint: str) -> None:
        self.findings.append(_bad(self.cells.get(column, self.first), message, hint))

    def text(self, column: str) -> str:
        cell = self.cells.get(column)
        return "" if cell is None else cell.text

    def parts(self, column: str) -> list[str]:
        return [part for piece in self.text(column).split(";") if (part := folded(piece))]

    def row(self) -> LarderRow | None:
        name = " ".join(self.text("name").split())
        if not name:
            self.bad("name", "This row has no name.", "Write what it is in the column `name`.")
            return None
        allergens, left_open, may, named = self.allergens()
        return LarderRow(
            name=name,
            plural=" ".join(self.text("plural").split()) or None,
            aliases=tuple(self.parts("aliases")),
            department=self.department(),
            densities=tuple(self.densities()),
            each=tuple(self.each()),
            allergens=allergens,
            open=left_open,
            may_contain=may,
            named=named,
            animal=self.animal(),
            source=self.text("source") or None,
            yields=tuple(self.yields()),
            parts=tuple(self.amounts()),
        )

    def department(self) -> str | None:
        word = folded(self.text("department"))
        if word and word not in DEPARTMENTS:
            self.bad("department", f"`{word}` is no department.", f"Write one of: {', '.join(DEPARTMENTS)}.")
            return None
        return word or None

    def densities(self) -> Iterator[tuple[str, Fraction]]:
        """`0.55`, or `sifted 0.46; 0.55`: g per ml."""
        for part in self.parts("density"):
            match = _FIGURE.fullmatch(part)
            value = Fraction(match["number"]) if match else Fraction(0)
            if match is None or match["unit"] in {"g", "kg"} or not Fraction(1, 100) <= value <= 25:
                self.bad(
                    "density", f"`{part}` is no density.", "Write grams per millilitre: 0.55, or sifted 0.46; 0.55"
                )
                continue
            yield match["words"].strip(), value

    def each(self) -> Iterator[tuple[str, str, Fraction]]:
        """`60 g`, or `large 70 g; clove 3 g`: grams of one."""
        for part in self.parts("each"):
            match = _FIGURE.fullmatch(part)
            words = match["words"].split() if match else []
            size = words.pop(0) if words and words[0] in _SIZES else ""
            key = words.pop(0) if words else "piece"
            value = Fraction(match["number"]) * (1000 if match["unit"] == "kg" else 1) if match else Fraction(0)
            counted = key in keys() and unit(key).dimension is Dimension.COUNT
            if match is None or match["unit"] == "g/ml" or words or not counted or value <= 0:
                self.bad("each", f"`{part}` is no weight of one.", "Write grams: 60 g, or large 70 g; clove 3 g")
                continue
            yield key, "" if size == "medium" else size, value

    def yields(self) -> Iterator[tuple[str, Fraction]]:
        """`peeled 80%; peeled and cored 70%`: what is left of what was bought."""
        for part in self.parts("yield"):
            match = _LEFT.fullmatch(part)
            words = match["words"].strip() if match else ""
            value = Fraction(match["number"]) / 100 if match else Fraction(0)
            if not 0 < value <= 1:
                self.bad("yield", f"`{part}` is no yield.", "Write what is left in per cent: peeled 80%; trimmed 90%")
            elif not loses(words):
                hint = "Name what throws part of it away: peeled 80%, trimmed 90%, boned 75%."
                self.bad("yield", f"`{words or part}` is no treatment that loses weight.", hint)
            else:
                yield words, value

    def amounts(self) -> Iterator[tuple[str, Fraction, str]]:
        """`juice 45 ml; zest 6 g`: how much of a part one piece gives."""
        for part in self.parts("parts"):
            match = _PART.fullmatch(part)
            words = match["words"].strip() if match else ""
            value = Fraction(match["number"]) if match else Fraction(0)
            if match is None or not words or value <= 0:
                self.bad(
                    "parts",
                    f"`{part}` is no part of one piece.",
                    "Write how much of it one gives: juice 45 ml; zest 6 g",
                )
                continue
            yield (
                normal_name(words),
                value * (1000 if match["unit"] in {"kg", "l"} else 1),
                "g" if "g" in match["unit"] else "ml",
            )

    def allergens(self) -> tuple[tuple[str, ...] | None, bool, tuple[str, ...], tuple[str, ...]]:
        """`milk; nuts:hazelnut; may contain peanuts`. `none` is a promise; blank is unknown; `?` leaves the rest unknown."""
        contains: list[str] = []
        may: list[str] = []
        named: list[str] = []
        words = [part for piece in self.parts("allergens") for part in _by_comma(piece)]
        left_open = "?" in words
        said_none = "none" in words
        within_may = False
        for word in words:
            if word in {"?", "none"}:
                continue
            # `may contain` holds for all that follows it in the list.
            within_may = within_may or word.startswith("may contain ")
            plain, _, inner = word.removeprefix("may contain ").replace("(", ":", 1).partition(":")
            key = plain.strip()
            if key not in ALLERGENS:
                hint = f"Write none, or some of: {'; '.join(ALLERGENS)}."
                self.bad("allergens", f"`{word}` is no regulated group of allergens.", hint)
            elif within_may:
                may.append(key)
            else:
                contains.append(key)
                named += [name.strip() for name in inner.rstrip(") ").split("+") if name.strip()]
        if said_none and contains:
            self.bad("allergens", "The cell says none and names one.", "Write none alone, or the allergens alone.")
        known = tuple(contains) if contains or said_none else None
        return known, left_open, tuple(may), tuple(named)

    def animal(self) -> tuple[str, ...] | None:
        words = [word for piece in self.parts("animal") for word in _by_comma(piece)]
        if not words:
            return None
        if words == ["none"]:
            return ()
        for word in words:
            if word not in ANIMAL:
                self.bad("animal", f"`{word}` is not known here.", f"Write none, or some of: {'; '.join(ANIMAL)}.")
        return tuple(words)


def _by_comma(piece: str) -> list[str]:
    return [word for part in piece.split(",") if (word := part.strip())]
