"""The guest matrix as a table for a spreadsheet: a row for every dish in every version, a column for every group."""

from __future__ import annotations

import csv
import io

from recipec.emit.guests_words import local_code, never_free, rows, rules_line
from recipec.emit.market_csv import cell
from recipec.measure.language import language_of
from recipec.plan.diets import DIETS
from recipec.plan.guests import Guests


def guests_csv(guests: Guests, language: str = "en") -> bytes:
    """UTF-8 with a byte order mark, as the market list; heads are English. The last row says whose groups these are."""
    tongue = language_of(language)
    table = io.StringIO(newline="")
    writer = csv.writer(table, lineterminator="\r\n")
    words = (group.words for group in guests.groups.groups)
    writer.writerow(
        ("course", "dish", "made of", "left out", "plates", "seats", *words, *DIETS, "to be settled"),
    )
    dish = ""
    for row in rows(guests, tongue):
        dish = dish if row.part else row.title
        part = row.title if row.part else ""
        answers = (*(one.answer for one in row.cells), *(one.answer for one in row.diets))
        line = (row.course, dish, part, row.without, row.plates, row.seats, *answers, row.unknown)
        writer.writerow(cell(text) for text in line)
    writer.writerow([cell(f"{rules_line(guests, tongue)} {never_free(tongue)} {local_code(tongue)}")])
    return table.getvalue().encode("utf-8-sig", "backslashreplace")
