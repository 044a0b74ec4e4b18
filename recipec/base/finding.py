"""Findings: what the compiler has to say to a cook, and the registry of their slugs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from recipec.base.span import Span


class Severity(StrEnum):
    """How bad it is. Dangers come first: someone may be hurt."""

    DANGER = "danger"
    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


@dataclass(frozen=True, slots=True)
class FindingKind:
    """One line of the registry: a stable slug, how bad it is, and its family in the reference."""

    slug: str
    severity: Severity
    family: str


@dataclass(frozen=True, slots=True)
class Label:
    """A further place that explains the finding, with a few words on what is there."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """Exact text to put in place of `span`, with the words that offer it."""

    span: Span
    replacement: str
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """A cook's mistake, or a danger, as a value.

    `message` is one plain sentence; `hints` say what to write instead; `accepted` is the cook's written
    reason where a fact `accept:` covers it.
    """

    slug: str
    span: Span
    message: str
    labels: tuple[Label, ...] = ()
    hints: tuple[str, ...] = ()
    fixes: tuple[Fix, ...] = ()
    accepted: str | None = None

    @property
    def severity(self) -> Severity:
        """From the registry; a slug has one severity."""
        return KINDS[self.slug].severity

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """Sort key: by file, place, slug, so that reports never depend on the order of the checks."""
        return (self.span.source.name, self.span.start, self.span.end, self.slug, self.message)


def _registry(*rows: tuple[str, str, str]) -> MappingProxyType[str, FindingKind]:
    table: dict[str, FindingKind] = {}
    for family, severity, slugs in rows:
        for slug in slugs.split():
            table[slug] = FindingKind(slug, Severity(severity), family)
    return MappingProxyType(table)


KINDS = _registry(
    ("writing", "error", "unclosed-mark empty-mark unreadable-mark bad-number bad-reading bad-result bad-fact"),
    ("writing", "error", "unknown-fact missing-fact repeated-fact bad-encoding unreadable-file bad-settings bad-row"),
    ("writing", "warning", "stray-bracket no-photo"),
    ("safety", "danger", "cure-by-spoon"),
    ("safety", "danger", "core-too-low raw-for-fragile not-for-fragile cooling-too-slow danger-zone"),
    ("safety", "warning", "raw-served cooling-unstated reheat-unstated kept-too-long airless-hold"),
    ("safety", "hint", "core-missing"),
    ("safety", "danger", "allergen-served allergen-unknown shared-kit"),
    ("safety", "warning", "swap-brings-allergen unmarked-food diet-not-kept same-kit"),
    ("safety", "hint", "wish-not-kept"),
    ("measuring", "error", "unknown-unit wrong-dimension unit-mismatch"),
    ("measuring", "warning", "no-density no-yield impossible-reading"),
    ("measuring", "hint", "time-assumed measures-assumed"),
    ("flow", "error", "not-introduced ambiguous-name used-up made-twice cannot-leave-out"),
    ("flow", "error", "plates-dont-add-up no-such-dish ambiguous-dish going-in-circles no-such-kitchen"),
    ("flow", "warning", "never-used bought-again"),
    ("flow", "hint", "left-over name-reused"),
    (
        "kitchen",
        "warning",
        "not-in-kitchen too-hot-for-oven oven-clash not-enough-burners cannot-be-ready held-too-long",
    ),
    ("money", "warning", "no-price stale-price over-budget currency-mismatch"),
)
"""Slug → kind. A slug is added with its check and its page under `tests/findings/`, never before."""

FORESEEN: frozenset[str] = frozenset()
"""Slugs of the language whose checks are not written yet. A fact `accept:` may name them already, so that a book written today stands."""

NEVER_ACCEPTED = frozenset({"allergen-served", "allergen-unknown", "raw-for-fragile", "not-for-fragile", "shared-kit"})
"""Dangers that no written reason can answer: what a guest is allergic to, may be allergic to, or is too frail to eat."""
