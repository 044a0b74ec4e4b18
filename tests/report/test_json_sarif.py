"""Findings as JSON and SARIF."""

from __future__ import annotations

import json
from typing import Any

from recipec.base.finding import Finding, Fix, Label
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.report import json as report_json
from recipec.report import sarif

SOURCE = Source("süß/a b.dish", "T\n\n🍋 Melt [600 g butter].\nAdd [650 g of the butter].\n")


def span(words: str) -> Span:
    start = SOURCE.text.index(words)
    return Span(SOURCE, start, start + len(words))


FINDINGS = [
    Finding(
        "used-up",
        span("650 g"),
        "More is taken than there is.",
        (Label(span("[600 g butter]"), "600 g comes in"),),
        ("Take less.",),
        (Fix(span("650 g"), "600 g", "all there is"),),
    ),
    Finding("never-used", span("T"), "Left.", accepted="for the staff"),
    Finding("time-assumed", span("Melt"), "Three minutes assumed."),
]


def test_json_shape() -> None:
    data = json.loads(report_json.render(FINDINGS))
    assert {key: data[key] for key in ("dangers", "errors", "warnings", "hints")} == {
        "dangers": 0,
        "errors": 1,
        "warnings": 0,
        "hints": 1,
    }
    assert [one["slug"] for one in data["findings"]] == ["never-used", "time-assumed", "used-up"]
    assert data["findings"][2] == {
        "slug": "used-up",
        "severity": "error",
        "message": "More is taken than there is.",
        "file": "süß/a b.dish",
        "line": 4,
        "column": 6,
        "end_line": 4,
        "end_column": 11,
        "labels": [
            {
                "file": "süß/a b.dish",
                "line": 3,
                "column": 8,
                "end_line": 3,
                "end_column": 22,
                "text": "600 g comes in",
            }
        ],
        "hints": ["Take less."],
        "fixes": [
            {
                "file": "süß/a b.dish",
                "line": 4,
                "column": 6,
                "end_line": 4,
                "end_column": 11,
                "replacement": "600 g",
                "text": "all there is",
            }
        ],
        "accepted": None,
    }


def test_json_survives_half_a_surrogate_pair() -> None:
    source = Source("a.dish", "\ud800")
    text = report_json.render([Finding("never-used", Span(source, 0, 1), "The \ud800 is left.")])
    assert json.loads(text.encode("utf-8"))["findings"][0]["message"] == "The \ud800 is left."


def _need(data: dict[str, Any], *names: str) -> None:
    assert set(names) <= set(data), f"{names} wanted in {sorted(data)}"


def test_sarif_has_the_members_the_standard_requires() -> None:
    """Required properties by SARIF 2.1.0: 3.13, 3.14, 3.18, 3.19, 3.27, 3.30, 3.35, 3.55-3.57, 3.49 (clause numbers
    from memory), and the ranges its schema sets."""
    data = json.loads(sarif.render(FINDINGS, "1.2.3"))
    _need(data, "version", "runs")
    assert data["version"] == "2.1.0"
    (run,) = data["runs"]
    _need(run, "tool", "results")
    assert run["columnKind"] == "unicodeCodePoints"
    driver = run["tool"]["driver"]
    _need(driver, "name", "rules")
    assert len({rule["id"] for rule in driver["rules"]}) == len(driver["rules"])
    for rule in driver["rules"]:
        _need(rule, "id", "shortDescription")
        assert rule["defaultConfiguration"]["level"] in ("none", "note", "warning", "error")
        assert 0 <= rule["defaultConfiguration"]["rank"] <= 100
    for result in run["results"]:
        _need(result, "message", "ruleId", "level", "locations")
        assert result["message"]["text"]
        assert driver["rules"][result["ruleIndex"]]["id"] == result["ruleId"]
        for location in result["locations"] + result.get("relatedLocations", []):
            region = location["physicalLocation"]["region"]
            assert all(region[name] >= 1 for name in ("startLine", "startColumn", "endLine", "endColumn"))
            assert (region["endLine"], region["endColumn"]) >= (region["startLine"], region["startColumn"])
        for fix in result.get("fixes", []):
            for change in fix["artifactChanges"]:
                _need(change, "artifactLocation", "replacements")
                for replacement in change["replacements"]:
                    _need(replacement, "deletedRegion")


def test_sarif_says_what_the_finding_says() -> None:
    run = json.loads(sarif.render(FINDINGS, "1.2.3"))["runs"][0]
    accepted, hint, error = run["results"]
    assert [one["level"] for one in run["results"]] == ["warning", "note", "error"]
    assert accepted["suppressions"] == [{"kind": "inSource", "status": "accepted", "justification": "for the staff"}]
    assert "suppressions" not in hint
    place = error["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"] == "s%C3%BC%C3%9F/a%20b.dish"
    assert place["region"] == {"startLine": 4, "startColumn": 6, "endLine": 4, "endColumn": 11}
    # One character outside the basic plane counts as one.
    related = error["relatedLocations"][0]
    assert related["physicalLocation"]["region"]["startColumn"] == 8
    assert related["message"]["text"] == "600 g comes in"
    assert error["fixes"][0]["artifactChanges"][0]["replacements"][0]["insertedContent"] == {"text": "600 g"}


def test_same_findings_in_any_order_give_the_same_bytes() -> None:
    assert sarif.render(FINDINGS, "1") == sarif.render(FINDINGS[::-1], "1")
    assert report_json.render(FINDINGS) == report_json.render(FINDINGS[::-1])
