"""Cards as PDF, many in one process: `python -m tests.bench.bench_pdf`.

200 cards of the demo book's dishes, each of another number of plates, against a bare sheet set by the same compiler. Target: at most
10 ms a card. What is measured is setting type, from the job to the bytes. Nothing is asserted: machines differ.
"""

from __future__ import annotations

import json
import statistics
import time
from fractions import Fraction
from pathlib import Path

from recipec.book.compile import compile_book
from recipec.emit.card_page import card_page
from recipec.emit.paper import Request
from recipec.emit.pdf.press import Job, job, set_type

CARDS = 200
RECIPES = Path(__file__).parents[2] / "recipes"


def jobs() -> list[Job]:
    """Two hundred cards, no two the same."""
    build = compile_book(RECIPES, cached=False)
    request = Request(build.book, build.larder, build.findings)
    dishes = [dish for dish in build.book.dishes if dish.serves is not None]
    made = []
    for number in range(CARDS):
        paper = card_page(request, dishes[number % len(dishes)].key, Fraction(2 + number // len(dishes)))
        assert paper.form is not None
        work = job(paper.form)
        assert work is not None
        made.append(work)
    return made


def bare(work: Job, number: int) -> Job:
    """The same sheet with nothing on it but a title."""
    data = json.loads(work.data)
    data["sheet"] |= {"title": f"Card {number}", "groups": [], "strands": [], "gear": [], "cautions": []}
    data["sheet"] |= {"keeps": [], "holds": [], "notes": []}
    return Job(work.template, json.dumps(data).encode("utf-8"))


def measured(works: list[Job]) -> list[float]:
    """Milliseconds for each."""
    found = []
    for work in works:
        start = time.perf_counter()
        set_type(work)
        found.append((time.perf_counter() - start) * 1000)
    return found


def main() -> None:
    """Prints the figures."""
    works = jobs()
    set_type(works[0])
    empty = measured([bare(work, number) for number, work in enumerate(works)])
    start = time.process_time()
    full = measured(works)
    busy = (time.process_time() - start) * 1000 / CARDS
    a_card, a_bare = sum(full) / CARDS, sum(empty) / CARDS
    middle = statistics.median(full)
    print(f"{CARDS} cards in one process, one after another: {a_card:.1f} ms a card (median {middle:.1f})")
    print(f"of a processor: {busy:.1f} ms a card, whatever else the machine does")
    print(f"a bare sheet: {a_bare:.1f} ms; ratio {a_card / a_bare:.1f}")


if __name__ == "__main__":
    main()
