"""Which gear marks of a dish are of one piece."""

from __future__ import annotations

from recipec.model.dish import Dish


def first_marks(dish: Dish) -> tuple[int, ...]:
    """For every gear mark the mark that brought its piece: `{the pan}` is the pan named last before it."""
    found: list[int] = []
    for gear in dish.gear:
        same = None
        if gear.same:
            same = next(
                (
                    found[other]
                    for other in range(gear.number - 1, -1, -1)
                    if _same_key(dish.gear[other].key, gear.key) and dish.gear[other].amount is None
                ),
                None,
            )
        found.append(gear.number if same is None else same)
    return tuple(found)


def _same_key(one: str, other: str) -> bool:
    return one == other or one.endswith(f" {other}") or other.endswith(f" {one}")
