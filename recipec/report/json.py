"""Findings as JSON, in the stable shape that scripts rely on."""

from __future__ import annotations

import json
from collections.abc import Iterable

from recipec.base.finding import Finding, Severity
from recipec.base.span import Span


def as_data(findings: Iterable[Finding]) -> dict[str, object]:
    """The shape of `check --format json`.

    Lines and columns count from 1, columns in characters; the end is the place after the last character.
    `dangers`, `errors`, `warnings` and `hints` count what is not accepted.
    """
    ordered = sorted(findings, key=lambda one: one.order)
    open_ones = [finding.severity for finding in ordered if finding.accepted is None]
    return {
        "findings": [_finding(finding) for finding in ordered],
        "dangers": open_ones.count(Severity.DANGER),
        "errors": open_ones.count(Severity.ERROR),
        "warnings": open_ones.count(Severity.WARNING),
        "hints": open_ones.count(Severity.HINT),
    }


def render(findings: Iterable[Finding]) -> str:
    """`as_data` as text, UTF-8 letters kept, a line end at the end."""
    text = json.dumps(as_data(findings), ensure_ascii=False, indent=2)
    return printable(text) + "\n"


def printable(text: str) -> str:
    """JSON text in which half a surrogate pair, which no UTF-8 can hold, is written as its escape."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def place(span: Span) -> dict[str, object]:
    """File, line and column of a span's start and end."""
    start, end = span.position, span.end_position
    return {
        "file": span.source.name,
        "line": start.line,
        "column": start.column,
        "end_line": end.line,
        "end_column": end.column,
    }


def _finding(finding: Finding) -> dict[str, object]:
    return {
        "slug": finding.slug,
        "severity": str(finding.severity),
        "message": finding.message,
        **place(finding.span),
        "labels": [{**place(label.span), "text": label.text} for label in finding.labels],
        "hints": list(finding.hints),
        "fixes": [{**place(fix.span), "replacement": fix.replacement, "text": fix.text} for fix in finding.fixes],
        "accepted": finding.accepted,
    }
