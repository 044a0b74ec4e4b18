"""Findings that the cook has answered with a reason are marked with it; they are never dropped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from recipec.base.finding import NEVER_ACCEPTED, Finding, Severity
from recipec.larder.names import folded
from recipec.model.dish import Accepted, Dish

if TYPE_CHECKING:
    from recipec.model.event import Event


def accept(findings: Iterable[Finding], dishes: Iterable[Dish], events: Iterable[Event]) -> tuple[Finding, ...]:
    """The same findings, those that a fact `accept:` of their own file covers with its reason. An error can't be accepted."""
    owners: list[Dish | Event] = [*dishes, *events]
    reasons = {owner.span.source.name: owner.accepted for owner in owners if owner.accepted}
    return tuple(_accepted(finding, reasons.get(finding.span.source.name, ())) for finding in findings)


def accepted_by(findings: Iterable[Finding], reasons: tuple[Accepted, ...]) -> tuple[Finding, ...]:
    """The same findings, answered by these reasons wherever they stand: a price that one event is reckoned with is in no event's file."""
    return tuple(_accepted(finding, reasons) for finding in findings)


def _accepted(finding: Finding, reasons: tuple[Accepted, ...]) -> Finding:
    if finding.severity is Severity.ERROR or finding.slug in NEVER_ACCEPTED:
        return finding
    for reason in reasons:
        if reason.slug != finding.slug:
            continue
        # `accept: … for duck breast` covers only a finding that names the duck breast or stands on it.
        about = folded(f"{finding.message} {finding.span.text}")
        if reason.subject is None or folded(reason.subject) in about:
            return replace(finding, accepted=reason.reason)
    return finding
