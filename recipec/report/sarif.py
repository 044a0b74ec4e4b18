"""Findings as SARIF 2.1.0 (OASIS Standard, 27 March 2020), for tools that show reports of any checker."""

from __future__ import annotations

import json
from collections.abc import Iterable
from urllib.parse import quote

from recipec.base.finding import KINDS, Finding, Severity
from recipec.base.span import Span
from recipec.report.json import printable

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

# SARIF knows no level above error; a danger is an error with the highest rank and its own tag.
_LEVEL = {Severity.DANGER: "error", Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "note"}
_RANK = {Severity.DANGER: 100.0, Severity.ERROR: 75.0, Severity.WARNING: 50.0, Severity.HINT: 25.0}


def as_data(findings: Iterable[Finding], version: str) -> dict[str, object]:
    """One run. Rules are the slugs that occur, sorted; artifact addresses are relative to the book."""
    ordered = sorted(findings, key=lambda one: one.order)
    slugs = sorted({finding.slug for finding in ordered})
    index = {slug: number for number, slug in enumerate(slugs)}
    driver = {"name": "recipec", "semanticVersion": version, "rules": [_rule(slug) for slug in slugs]}
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "results": [_result(finding, index[finding.slug]) for finding in ordered],
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def render(findings: Iterable[Finding], version: str) -> str:
    """`as_data` as text."""
    return printable(json.dumps(as_data(findings, version), ensure_ascii=False, indent=2)) + "\n"


def _rule(slug: str) -> dict[str, object]:
    kind = KINDS[slug]
    return {
        "id": slug,
        "shortDescription": {"text": slug.replace("-", " ")},
        "help": {"text": f"recipec explain {slug}"},
        "defaultConfiguration": {"level": _LEVEL[kind.severity], "rank": _RANK[kind.severity]},
        "properties": {"tags": [str(kind.severity), kind.family]},
    }


def _result(finding: Finding, index: int) -> dict[str, object]:
    text = finding.message if not finding.hints else "\n".join((finding.message, *finding.hints))
    result: dict[str, object] = {
        "ruleId": finding.slug,
        "ruleIndex": index,
        "level": _LEVEL[finding.severity],
        "rank": _RANK[finding.severity],
        "message": {"text": text},
        "locations": [_location(finding.span)],
    }
    if finding.labels:
        result["relatedLocations"] = [
            {"id": number, **_location(label.span), "message": {"text": label.text}}
            for number, label in enumerate(finding.labels, 1)
        ]
    if finding.fixes:
        result["fixes"] = [
            {
                "description": {"text": fix.text or f"write {fix.replacement}"},
                "artifactChanges": [
                    {
                        "artifactLocation": _artifact(fix.span),
                        "replacements": [
                            {"deletedRegion": _region(fix.span), "insertedContent": {"text": fix.replacement}}
                        ],
                    }
                ],
            }
            for fix in finding.fixes
        ]
    if finding.accepted is not None:
        result["suppressions"] = [{"kind": "inSource", "status": "accepted", "justification": finding.accepted}]
    return result


def _location(span: Span) -> dict[str, object]:
    return {"physicalLocation": {"artifactLocation": _artifact(span), "region": _region(span)}}


def _artifact(span: Span) -> dict[str, object]:
    # A name may hold half a surrogate pair (a file system's undecodable byte); its address may not.
    return {"uri": quote(span.source.name.encode("utf-8", "surrogateescape"), safe="/")}


def _region(span: Span) -> dict[str, object]:
    start, end = span.position, span.end_position
    return {
        "startLine": start.line,
        "startColumn": start.column,
        "endLine": end.line,
        "endColumn": end.column,
    }
