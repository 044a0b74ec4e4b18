"""The guest matrix as JSON, in the stable shape of `schemas/guests.json`. Seats have numbers and no names."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.base.finding import Finding
from recipec.emit.guests_words import rules_line
from recipec.emit.json_papers import Json, json_text
from recipec.plan.allergen_groups import Group
from recipec.plan.guests import Guests, Row, Served, Verdict
from recipec.plan.rules import LOCAL


def guests_json(guests: Guests, findings: Iterable[Finding] = ()) -> str:
    """`guests --format json`."""
    groups = guests.groups
    return json_text(
        {
            "event": guests.event.key,
            "title": guests.event.title,
            "rules": groups.rules,
            "rules_text": f"{rules_line(guests)} {LOCAL}",
            "groups": groups_data(groups.groups),
            "rows": [_served(served) for served in guests.served],
            "seats": [
                {
                    "seat": seat.number,
                    "needs": [{"kind": need.kind.value, "what": need.what} for need in seat.needs],
                    "served": [_verdict(guests, one) for one in guests.verdicts if one.seat == seat.number],
                }
                for seat in guests.event.seats
            ],
            "findings": [_finding(finding) for finding in findings],
        }
    )


def groups_data(groups: Iterable[Group]) -> list[Json]:
    """The groups of a rule set, in its order; `number` null where it numbers none."""
    return [
        {"key": group.key, "number": group.number or None, "words": group.words, "source": group.source}
        for group in groups
    ]


def _served(served: Served) -> dict[str, Json]:
    return {
        "course": served.course,
        **_row(served.row),
        "without": list(served.order.without),
        "plates": None if served.plates is None else str(served.plates),
        "seats": list(served.seats),
        "parts": [{**_row(part), "without": list(part.without)} for part in served.parts],
    }


def _row(row: Row) -> dict[str, Json]:
    return {
        "dish": row.key or None,
        "title": row.title,
        "cells": {key: cell.presence.value for key, cell in row.cells.items()},
        "foods": {key: list(cell.foods) for key, cell in row.cells.items() if cell.foods},
        "diets": {diet: answer.value for diet, answer in row.diets.items()},
        "unknown": list(row.unknown),
    }


def _verdict(guests: Guests, verdict: Verdict) -> dict[str, Json]:
    return {
        "row": verdict.served,
        "dish": guests.served[verdict.served].row.key or None,
        "need": verdict.need.what,
        "allergy": verdict.hurts,
        "answer": verdict.presence.value,
        "foods": [{"name": harm.food.name, "answer": harm.presence.value} for harm in verdict.harms],
    }


def _finding(finding: Finding) -> dict[str, Json]:
    return {
        "slug": finding.slug,
        "severity": finding.severity.value,
        "message": finding.message,
        "file": finding.span.source.name,
        "line": finding.span.position.line,
        "accepted": finding.accepted,
    }
