"""The safety log in words: what is to be measured, by which limit, and when it is due."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from recipec.emit.plain import capital
from recipec.emit.tub_words import due_text
from recipec.measure.language import ENGLISH, Language
from recipec.plan.safety_log import Check


def also(tongue: Language) -> str:
    """What is said above the log."""
    return tongue.say(
        "Write what the probe shows, not what it should; where a limit is missed write what was done about it."
    )


@dataclass(frozen=True, slots=True)
class CheckText:
    """A line, worded; a blank to write in for each of `limits`."""

    what: str
    of: str
    due: str
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LogPart:
    """The lines of one kind; `sources` are where their limits come from."""

    id: str
    name: str
    lines: tuple[CheckText, ...]
    sources: tuple[str, ...]


def log_parts(checks: Iterable[Check], tongue: Language = ENGLISH) -> tuple[LogPart, ...]:
    """The lines by kind, which they are sorted by."""
    return tuple(
        _part(kind.value, tuple(lines), tongue) for kind, lines in groupby(checks, key=lambda check: check.kind)
    )


def _part(name: str, checks: tuple[Check, ...], tongue: Language) -> LogPart:
    lines = tuple(CheckText(check.what, check.of, due_text(check.at, tongue), check.limits) for check in checks)
    return LogPart(
        name.replace(" ", "-"),
        capital(tongue.say(name, context="log")),
        lines,
        tuple(dict.fromkeys(check.source for check in checks)),
    )
