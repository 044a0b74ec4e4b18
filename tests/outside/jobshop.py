"""A published job-shop as a book of prose.

ft06: H. Fisher and G. L. Thompson, "Probabilistic learning combinations of local job-shop scheduling rules", in Industrial
Scheduling, Prentice-Hall, 1963. A row a job: pairs of machine and minutes. The optimum is beside it.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple


class Instance(NamedTuple):
    """Jobs of (machine, minutes), and the published optimum in minutes."""

    jobs: tuple[tuple[tuple[int, int], ...], ...]
    optimum: int


def _of(text: str, optimum: int) -> Instance:
    rows = [[int(word) for word in line.split()] for line in text.strip().splitlines()]
    return Instance(tuple(tuple(zip(row[::2], row[1::2], strict=True)) for row in rows), optimum)


FT06 = _of(
    """
    2 1 0 3 1 6 3 7 5 3 4 6
    1 8 2 5 4 10 5 10 0 10 3 4
    2 5 3 4 5 8 0 9 1 1 4 7
    1 5 0 5 2 5 3 3 4 8 5 9
    2 9 1 3 4 5 5 4 0 3 3 1
    1 3 3 3 5 9 0 10 4 4 2 1
    """,
    55,
)

MACHINES = ("stand mixer", "blender", "mandoline", "spice grinder", "mortar", "pasta roller")
_FOODS = (
    "apples",
    "beetroots",
    "carrots",
    "damsons",
    "endives",
    "fennel bulbs",
    "grapes",
    "hazelnuts",
    "leeks",
    "mangoes",
)


def write_book(folder: Path, instance: Instance) -> None:
    """The instance as a book: a dish a job, a piece of gear a machine, hands enough, and each step ends in an arrow so that its gear is
    free between. Everything keeps for a day, so nothing but the gear stands in the way."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "cookbook.toml").write_text('title = "A job-shop"\n', "utf-8")
    titles = [f"Plate of {food}" for food in _FOODS[: len(instance.jobs)]]
    for title, job in zip(titles, instance.jobs, strict=True):
        name = title.lower().replace(" ", "-")
        (folder / f"{name}.dish").write_text(_dish(title, title.removeprefix("Plate of "), job), "utf-8")
    gear = [f"{machine}: 1" for machine in MACHINES]
    (folder / "shop.kitchen").write_text(
        "\n".join(["Shop", "hob: 4 burners", *gear, f"hands: {len(instance.jobs)}", ""]), "utf-8"
    )
    orders = "\n".join(f"[our {title.lower()}]" for title in titles)
    (folder / "shift.event").write_text(
        f"Shift\nguests: 1\nserve: 2026-03-03 23:00\narrive: 2026-03-03 01:00\nleave by: 23:59\nkitchen: shop\n"
        f"aim: short\nreserve: 0 min\n\nBoard, <23:00>:\n\n{orders}\n",
        "utf-8",
    )


def _dish(title: str, food: str, job: tuple[tuple[int, int], ...]) -> str:
    steps = []
    for place, (machine, minutes) in enumerate(job, 1):
        what = f"[1 kg {food}]" if place == 1 else f"[the part {place - 1}]"
        steps.append(f"Work {what} in a {{{MACHINES[machine]}}} for <{minutes} min attended>. -> part {place}")
    return f"{title}\nserves: 1\ncourse: main\nkeeps: 1 d\n\n" + "\n\n".join(steps) + "\n"
