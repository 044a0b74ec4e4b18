"""Labels, the leftovers sheet and the safety log as JSON, in the stable shapes of `schemas/labels.json`, `leftovers.json` and `log.json`.

Local times are RFC 3339 without an offset; what is left to be written in by hand is null.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from recipec.emit.guests_json import groups_data
from recipec.emit.json_papers import Json, amount_data, cautions_data, json_text
from recipec.emit.leftovers_words import first_of_all
from recipec.emit.tub_words import TubHead
from recipec.larder.ingredient import Presence
from recipec.plan.allergen_groups import groups_of
from recipec.plan.labels import Held, Label, UseBy
from recipec.plan.leftovers import Leftover
from recipec.plan.safety_log import Check


def labels_json(head: TubHead, labels: Iterable[Label]) -> str:
    """`guests --paper labels --format json`."""
    groups = groups_data(groups_of(head.rule_set).groups)
    return json_text({**_head(head), "groups": groups, "labels": [_label(label) for label in labels]})


def leftovers_json(head: TubHead, left: Iterable[Leftover]) -> str:
    """`guests --paper leftovers --format json`."""
    first: list[Json] = list(first_of_all(head.rule_set, head.tongue))
    groups = groups_data(groups_of(head.rule_set).groups)
    return json_text({**_head(head), "first": first, "groups": groups, "lines": [_left(line) for line in left]})


def log_json(head: TubHead, checks: Iterable[Check]) -> str:
    """`guests --paper log --format json`."""
    return json_text({**_head(head), "checks": [_check(check) for check in checks]})


def _head(head: TubHead) -> dict[str, Json]:
    return {
        "event": head.event,
        "title": head.title,
        "rules": head.rule_set,
        "rules_text": head.rules,
        "cautions": cautions_data(head.cautions),
    }


def _label(label: Label) -> dict[str, Json]:
    return {
        "name": label.name,
        "dish": label.dish,
        "title": label.title,
        "without": list(label.without),
        "amount": None if label.amount is None else amount_data(label.much, label.amount.terms),
        "made": _time(label.made),
        "use_by": _use_by(label.use_by),
        "state": label.state.value or "room",
        "keep": label.keep,
        "back": label.back or None,
        "rice": label.rice,
        **_held(label.held, label.open),
    }


def _left(line: Leftover) -> dict[str, Json]:
    return {
        "dish": line.dish,
        "title": line.title,
        "without": list(line.without),
        "course": line.course,
        "plates": None if line.plates is None else str(line.plates),
        "surplus": str(line.surplus),
        "use_by": None if line.throw else _use_by(line.use_by),
        "frozen": line.frozen,
        "heated": line.heated,
        "not_kept": line.throw or None,
        "rice": line.rice,
        **_held(line.held, line.open),
    }


def _check(check: Check) -> dict[str, Json]:
    return {
        "kind": check.kind.value,
        "what": check.what,
        "of": check.of,
        "limits": list(check.limits),
        "source": check.source,
        "at": _time(check.at),
    }


def _held(held: tuple[Held, ...], open_foods: tuple[str, ...]) -> dict[str, Json]:
    return {
        "cells": {one.group.key: one.presence.value for one in held},
        "foods": {one.group.key: list(one.foods) for one in held if one.foods},
        "kinds": {one.group.key: list(one.kinds) for one in held if one.presence is Presence.CONTAINS and one.kinds},
        "unknown": list(open_foods),
    }


def _use_by(use_by: UseBy | None) -> Json:
    return None if use_by is None else {"at": _time(use_by.at), "whole_day": use_by.to_the_day, "why": use_by.why}


def _time(moment: datetime | None) -> Json:
    return None if moment is None else moment.isoformat(timespec="seconds")
