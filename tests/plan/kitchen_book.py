"""Small invented books written to a folder, and the problems they make."""

from __future__ import annotations

from pathlib import Path

from recipec.book.compile import Build, compile_book
from recipec.measure.show import Style
from recipec.model.kitchen import Kitchen
from recipec.plan.action_types import Action, Work
from recipec.plan.actions import work_of
from recipec.plan.kitchen_stock import Stock
from recipec.plan.problem import problem_of
from recipec.plan.timeline_types import Problem, Task

KITCHEN = """Test kitchen
oven: 1, 2 shelves, up to 250 °C, heats 12 °C/min
hob: 4 burners
fridge: 1, 200 l, alone
freezer: 1, 80 l, alone
frying pan: 2, takes 4 plates, on hob
saucepan: 2, on hob
roasting tin: 2
bowl: 3
griddle: 1, takes 6 pieces, on hob
bain-marie: 1, on hob
hands: 1
"""
EVENT = """Test supper
guests: 4
serve: 2026-05-02 19:00
arrive: 2026-05-02 12:00
leave by: 2026-05-02 23:00
kitchen: test
aim: calm
reserve: 0 min

Main, <19:00>:

[our test dish]
"""


def build(folder: Path, files: dict[str, str], kitchen: str = KITCHEN, event: str = EVENT) -> Build:
    """A book of these files, a kitchen and an event."""
    (folder / "cookbook.toml").write_text('title = "A test"\nmeasures = "metric"\n', encoding="utf-8")
    for name, text in {"test.kitchen": kitchen, "supper.event": event, **files}.items():
        (folder / name).write_text(text, encoding="utf-8")
    return compile_book(folder)


def made(folder: Path, text: str, kitchen: str = KITCHEN, facts: str = "serves: 4") -> Work:
    """The work of one dish."""
    book = build(folder, {"test-dish.dish": f"Test dish\n{facts}\n\n{text}\n"}, kitchen).book
    found: Kitchen | None = book.kitchen("test")
    dish = book.dish("test-dish")
    assert dish is not None
    return work_of(dish, Stock(found))


def actions(folder: Path, text: str, kitchen: str = KITCHEN) -> tuple[Action, ...]:
    """The actions of one dish."""
    return made(folder, text, kitchen).actions


def problem(
    folder: Path, text: str, kitchen: str = KITCHEN, event: str = EVENT, facts: str = "serves: 4", **others: str
) -> Problem:
    """The problem of an event with one dish, and `others` it may be made of, by key (`_` for `-`)."""
    files = {f"{key.replace('_', '-')}.dish": other for key, other in others.items()}
    built = build(folder, {"test-dish.dish": f"Test dish\n{facts}\n\n{text}\n", **files}, kitchen, event)
    found = problem_of(built.book, built.larder, "supper", Style())
    assert isinstance(found, Problem), found
    return found


def named(problem: Problem, what: str) -> Task:
    """The only task whose chart words begin so."""
    found = [task for task in problem.tasks if task.what.startswith(what)]
    assert len(found) == 1, [task.what for task in problem.tasks]
    return found[0]
