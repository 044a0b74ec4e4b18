"""Cooling, holding and heating again in one dish: each judge in turn."""

from __future__ import annotations

from recipec.base.finding import Finding
from recipec.plan.rules import Rules
from recipec.plan.safety_airless import airless_of
from recipec.plan.safety_cooling import cooling_of, reheating_of
from recipec.plan.safety_keeping import kept, kept_whole, shelf_of
from recipec.plan.safety_trace import Trace
from recipec.plan.safety_zone import zone_of


def holding_findings(trace: Trace, rules: Rules) -> tuple[Finding, ...]:
    """Of one dish, in no order; each once."""
    found = [
        *(finding for left in (*kept(trace), *kept_whole(trace)) for finding in cooling_of(trace, left, rules)),
        *(finding for left in kept(trace) for finding in reheating_of(trace, left, rules)),
        *(finding for left in (*kept(trace), *trace.keeps) for finding in shelf_of(trace, left, rules)),
        *zone_of(trace, rules),
        *airless_of(trace, rules),
    ]
    return tuple(dict.fromkeys(found))
