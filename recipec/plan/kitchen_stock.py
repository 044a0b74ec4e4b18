"""The kitchen's gear, looked up by the words a dish has for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

from recipec.larder.names import normal_name
from recipec.model.kitchen import Gear, Kitchen
from recipec.plan.work_figures import GearWork, gear_work


@dataclass(frozen=True, slots=True)
class Piece:
    """A kind of gear as it is here: the key of its pool, the kitchen's line (None: it is brought), and how it works."""

    key: str
    name: str
    line: Gear | None
    work: GearWork

    @property
    def kind(self) -> str:
        """gear, oven, hob, fridge or freezer."""
        return self.work.kind


@dataclass(frozen=True, slots=True)
class Stock:
    """Look-up in one kitchen; in none where the event names none."""

    kitchen: Kitchen | None
    _lines: dict[str, Gear] = field(init=False)

    def __post_init__(self) -> None:
        lines = () if self.kitchen is None else self.kitchen.gear
        object.__setattr__(self, "_lines", {line.key: line for line in lines})

    def find(self, name: str) -> Piece:
        """The kitchen's gear of that name: the longest last words count, words before them are its size (`large frying pan`); else
        the only gear whose name ends so (`bowl`)."""
        key = normal_name(name)
        line = self._line(key)
        if line is None:
            return Piece(key, name, None, gear_work(key))
        work = gear_work(line.key) if line.key != key and gear_work(key) == GearWork() else gear_work(key)
        if line.on is not None:
            work = GearWork(work.kind, work.attend, _is_hob(line.on), work.heat or _is_hob(line.on), work.wash)
        return Piece(line.key, line.name, line, work)

    def _line(self, key: str) -> Gear | None:
        words = key.split()
        for first in range(len(words)):
            found = self._lines.get(" ".join(words[first:]))
            if found is not None:
                return found
        ends = [line for known, line in self._lines.items() if known.endswith(f" {key}")]
        return ends[0] if len(ends) == 1 else None

    def first(self, kind: str) -> Piece | None:
        """The kitchen's first gear of a kind."""
        return next((self.find(name) for name in self._lines if gear_work(name).kind == kind), None)


@cache
def _is_hob(name: str) -> bool:
    return gear_work(name).kind == "hob" or name in ("burner", "stove", "cooker", "ring", "range")
