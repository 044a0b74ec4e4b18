"""A kitchen: what there is to cook with."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipec.base.span import Span
from recipec.measure.quantity import Amount


class Gear(NamedTuple):
    """One line of a kitchen.

    `number` of them; `shelves` of each (ovens); `up_to` its highest setting in °C; `heats` kelvins a minute; `fan`, `alone`
    (may run with no cook on site); `on` the gear it stands on (`hob`); `energy` gas, electric, induction or ''; `size` as written;
    `power` of each burner, in watts.
    """

    span: Span
    key: str
    name: str
    number: int
    shelves: int
    up_to: Fraction | None
    heats: Fraction | None
    fan: bool
    alone: bool
    on: str | None
    energy: str
    takes: Amount | None
    size: str
    power: Fraction | None = None


class HandsTurn(NamedTuple):
    """So many pairs of hands, between minutes from midnight (None: the whole day)."""

    number: int
    start: int | None
    end: int | None


class Kitchen(NamedTuple):
    """`key` is the file's name without its ending. `burners` counts the hob's."""

    key: str
    title: str
    span: Span
    gear: tuple[Gear, ...]
    burners: int
    hands: tuple[HandsTurn, ...]
