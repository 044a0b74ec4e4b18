"""What every analysis is given, and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, NamedTuple, TypeVar

from recipec.base.finding import Finding, Fix, Label
from recipec.base.span import Span
from recipec.larder.larder import Larder
from recipec.model.settings import Settings

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Context:
    """The book's settings and its larder."""

    settings: Settings
    larder: Larder


class Analysed(NamedTuple, Generic[T]):
    """A value and what is to be said of it. The value always stands, however bad the source."""

    value: T
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Notes:
    """Gathers the findings of one analysis; lives no longer than it."""

    found: list[Finding] = field(default_factory=list)

    def add(
        self,
        slug: str,
        span: Span,
        message: str,
        *hints: str,
        labels: tuple[Label, ...] = (),
        fixes: tuple[Fix, ...] = (),
    ) -> None:
        """One finding more."""
        self.found.append(Finding(slug, span, message, labels, hints, fixes))

    def done(self) -> tuple[Finding, ...]:
        """All of them, by place."""
        return tuple(sorted(self.found, key=lambda finding: finding.order))
