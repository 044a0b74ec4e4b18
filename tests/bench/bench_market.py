"""Market list, costing and swaps of one large event, against the import of OR-tools: `python -m tests.bench.bench_market`.

Five courses for twelve that draw on 40 dishes and 400 prices. Target: list and costing, once OR-tools is loaded, at most
0.5 × the time of loading it in a fresh process. Nothing here is asserted: machines differ. All of the book is invented.
"""

from __future__ import annotations

import importlib
import random
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace

from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder, builtin
from recipec.measure.quantity import Amount
from recipec.measure.show import Style
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.prices import Price
from recipec.plan.costing import cost_event, event_costing
from recipec.plan.market import market, reckon_events
from recipec.plan.swaps import swaps
from tests.plan.make import Mark, Ordered, amount, book, buy, dish, event, our, price

DISHES, PRICES, SHOPS = 40, 400, ("Corner Greens", "Quay Stores", "Stall, west gate")
STYLE = Style(measures="metric")


def large(seed: int = 1, alternatives: int = 0) -> tuple[Book, Larder]:
    """The book; `alternatives` of its marks have a second choice."""
    chance = random.Random(seed)
    larder = builtin()
    foods = chance.sample([item for item in larder.all() if item.weight_each() or item.densities], 130)
    dishes: list[Dish] = []
    for number in range(DISHES):
        marks = [_mark(food, chance) for food in chance.sample(foods, 9)]
        if alternatives > 0 and number % max(1, DISHES // alternatives) == 0:
            alternatives -= 1
            marks[0] = replace(marks[0], choices=(_mark(chance.choice(foods), chance),))
        # A third of the dishes are components of two others each.
        if number >= DISHES // 3:
            for below in chance.sample(range(DISHES // 3), 2):
                marks.append(
                    our(f"300 ml our dish {below:02}", f"dish {below:02}", f"dish-{below:02}", amount(300, "ml"))
                )
            dishes.append(dish(f"dish-{number:02}", *marks, serves=4))
        else:
            dishes.append(dish(f"dish-{number:02}", *marks, serves=None, makes=amount(1, "l")))
    plates = [Ordered(one.key) for one in dishes[DISHES // 3 :]]
    supper = event("supper", guests=12)
    (course,) = event("supper", *plates, guests=12).courses
    fifth = -(-len(course.orders) // 5)
    courses = tuple(
        course._replace(name=f"Course {n + 1}", orders=course.orders[n * fifth : (n + 1) * fifth]) for n in range(5)
    )
    rows: list[Price] = []
    while len(rows) < PRICES:
        food = foods[len(rows) % len(foods)]
        grams = chance.choice([100, 125, 200, 250, 400, 500, 750, 1000, 1500, 2500])
        cents = max(20, round(grams**0.92 * chance.uniform(0.85, 1.15)))
        rows.append(price(food.key, amount(grams, "g"), f"{cents / 100:.2f}", chance.choice(SHOPS)))
    return book(dishes, [supper._replace(courses=courses)], rows), larder


def _mark(food: Ingredient, chance: random.Random) -> Mark:
    much: Amount
    if food.weight_each() and chance.random() < 0.3:
        much = amount(chance.randint(1, 4))
    elif food.densities and chance.random() < 0.3:
        much = amount(chance.randint(1, 3), "metric_tbsp")
    else:
        much = amount(chance.choice([30, 75, 120, 200, 350]), "g")
    return buy(f"{much.terms[0].high} {food.name}", food.name, much)


def timed(work: Callable[[], object], rounds: int = 7) -> float:
    best = float("inf")
    for _ in range(rounds):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return best


def loading() -> float:
    """Seconds of the processor that a fresh process takes to load OR-tools, of which the least disturbed counts."""
    code = "import time; start = time.process_time(); from ortools.sat.python import cp_model; print(time.process_time() - start)"
    runs = [subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True) for _ in range(7)]
    return min(float(run.stdout) for run in runs)


def main() -> None:
    importlib.import_module("ortools.sat.python.cp_model")
    reference = loading()
    print(f"loading OR-tools in a fresh process {reference * 1000:7.0f} ms")
    many, larder = large()
    found = market(many, larder, ["supper"], STYLE)
    several = sum(1 for line in found.lines if sum(row.item == line.item for row in many.prices) > 1)
    print(f"{len(found.lines)} lines, of which {several} with packs to choose among; till {found.till}")
    supper = many.events[0]

    def both() -> None:
        reckoned = reckon_events(many, larder, ["supper"], STYLE)
        event_costing(many, larder, supper, reckoned, STYLE)

    show("market list", timed(lambda: market(many, larder, ["supper"], STYLE)), reference)
    show("costing by itself", timed(lambda: cost_event(many, larder, "supper", STYLE)), reference)
    show("market list and costing of it", timed(both), reference, "target at most 0.5")
    for alternatives in (5, 15):
        choosing, _ = large(alternatives=alternatives)
        start = time.process_time()
        help_ = swaps(choosing, larder, ["supper"], STYLE)
        proved = "proved" if help_.proved else "not proved"
        show(f"swaps of {alternatives} marks with a choice", time.process_time() - start, reference, proved)


def show(what: str, seconds: float, reference: float, said: str = "") -> None:
    print(f"{what:<36}{seconds * 1000:7.0f} ms {seconds / reference:6.2f}" + (f"   ({said})" if said else ""))


if __name__ == "__main__":
    main()
