"""Plans of events, kept from one run to the next: a plan takes seconds, and the same work always has the same plan.

They lie in the cache folder of `cache.py`, a file a plan, named by a hash of the problem and of the program that solves
it. What only moves the text of a dish (a remark, a line above) leaves the problem what it is: marks are compared by their
words, not their places.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import pickle
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from importlib.metadata import version
from pathlib import Path
from typing import Any

from recipec.base.span import Span
from recipec.book.cache import cache_folder, program_mark
from recipec.book.kept_file import let_go, read_kept, write_kept
from recipec.plan.timeline_types import Planned, Problem

_MAGIC = b"recipec plan 1\n"
_MOST = 400
"""Plans kept, of all books together; those longest unused go first."""
_TYPES = "recipec.plan.timeline_types"

WHOLE = "whole"
"""The best plan, with slack and lateness."""
QUICK = "quick"
"""Whether there is a plan, and what collides where there is none."""


class PlanStore:
    """Plans by their problem. `folder` None keeps nothing. Never raises for anything wrong with the folder or a file in it."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def kept(self, problem: Problem, sort: str = WHOLE) -> Planned | None:
        """The plan of that sort that is kept for this problem; None when there is none."""
        path = self._path(problem, sort)
        return None if path is None else _read(path, problem)

    def planned(self, problem: Problem, plan: Callable[[Problem], Planned], sort: str = WHOLE) -> Planned:
        """The plan that is kept for this problem, else the one that `plan` makes, which is kept then."""
        found = self.kept(problem, sort)
        if found is not None:
            return found
        made = plan(problem)
        path = self._path(problem, sort)
        if path is not None:
            with contextlib.suppress(OSError):
                _write(path, made)
        return made

    def _path(self, problem: Problem, sort: str) -> Path | None:
        return None if self._folder is None else self._folder / f"{_key(problem)}.{sort}.plan"


def plan_store() -> PlanStore:
    """The store in the folder that RECIPEC_PLANS names, else in the user's cache folder; one that keeps nothing when RECIPEC_CACHE says
    `off`."""
    chosen = os.environ.get("RECIPEC_PLANS")
    folder = cache_folder()
    return PlanStore(Path(chosen) if chosen else None if folder is None else folder / "plans")


# ---------------------------------------------------------------- names


def _key(problem: Problem) -> str:
    digest = hashlib.sha256(program_mark() + version("ortools").encode())
    digest.update("\n".join(_texts(problem)).encode("utf-8", "surrogatepass"))
    return digest.hexdigest()[:40]


def _texts(value: object) -> Iterator[str]:
    """A value as lines that tell it from any other, spans by what they hold."""
    match value:
        case Span():
            yield f"span {value.source.name!r} {value.text!r}"
        case Enum():
            yield f"{type(value).__name__}.{value.name}"
        case tuple():
            # Named tuples too: of one field list each, so their values tell them apart.
            yield f"{type(value).__name__} {len(value)}"
            for item in value:
                yield from _texts(item)
        case _ if is_dataclass(value):
            yield type(value).__name__
            for field in fields(value):
                yield from _texts(getattr(value, field.name))
        case _:
            yield repr(value)


def _spans(value: object) -> Iterator[Span]:
    """Every span in a problem, in the order of its parts."""
    if isinstance(value, Span):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _spans(item)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _spans(getattr(value, field.name))


# ---------------------------------------------------------------- files


class _Writer(pickle.Pickler):
    """Writes a plan without its problem: spans by their place among the problem's."""

    def __init__(self, file: io.BytesIO, problem: Problem) -> None:
        super().__init__(file, protocol=5)
        self._problem = problem
        self._places: dict[tuple[str, int, int], int] = {}
        for place, span in enumerate(_spans(problem)):
            self._places.setdefault((span.source.name, span.start, span.end), place)

    def persistent_id(self, value: object) -> Any:
        if value is self._problem:
            return "problem"
        if isinstance(value, Span):
            return self._places[value.source.name, value.start, value.end]
        return None


class _Reader(pickle.Unpickler):
    """Builds the types of plans and nothing else."""

    def __init__(self, file: io.BytesIO, problem: Problem) -> None:
        super().__init__(file)
        self._problem = problem
        self._all = tuple(_spans(problem))

    def persistent_load(self, pid: Any) -> object:
        return self._problem if pid == "problem" else self._all[pid]

    def find_class(self, module: str, name: str) -> object:
        if module == _TYPES:
            found = super().find_class(module, name)
            if isinstance(found, type):
                return found
        raise pickle.UnpicklingError(f"no plan holds {module}.{name}")


def _read(path: Path, problem: Problem) -> Planned | None:
    body = read_kept(path, _MAGIC)
    if body is None:
        return None
    try:
        found = _Reader(io.BytesIO(body), problem).load()
    except Exception:  # unpickling damaged data may raise anything; the plan is made again
        return None
    return found if isinstance(found, Planned) else None


def _write(path: Path, planned: Planned) -> None:
    file = io.BytesIO()
    try:
        _Writer(file, planned.problem).dump(planned)
    except KeyError:
        # A span that is none of the problem's can't be found again; such a plan is made each time.
        return
    write_kept(path, _MAGIC, file.getvalue())
    let_go(path.parent, "*.plan", _MOST)
