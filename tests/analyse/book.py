"""Dishes from text, for tests of the analysis."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import dedent

from recipec.analyse.context import Analysed, Context
from recipec.analyse.link import Linked
from recipec.analyse.passes import analyse_dish, analyse_event, analyse_kitchen, link_book
from recipec.base.finding import Finding
from recipec.base.source import Source
from recipec.larder.larder import builtin
from recipec.model.dish import Dish, Use
from recipec.model.settings import Settings
from recipec.syntax.parse import parse

METRIC = Settings(measures="metric")


def dish(
    body: str, head: str = "Test dish\nserves: 4\n", settings: Settings = METRIC, name: str = "test.dish"
) -> Analysed[Dish]:
    """A dish from the text under its facts. Findings of the parser come with those of the analysis."""
    parsed = parse(Source(name, f"{head}\n{dedent(body).strip()}\n"), "dish")
    analysed = analyse_dish(parsed.tree, Context(settings, builtin()))
    return Analysed(analysed.value, (*parsed.findings, *analysed.findings))


def book(files: Mapping[str, str], settings: Settings = METRIC) -> tuple[Linked, tuple[Finding, ...]]:
    """A linked book from texts by file name, and all its findings."""
    context = Context(settings, builtin())
    dishes, events, kitchens, findings = [], [], [], []
    for name, text in files.items():
        source = Source(name, dedent(text).strip() + "\n")
        kind = name.rsplit(".", 1)[1]
        assert kind in ("dish", "event", "kitchen")
        parsed = parse(source, kind)  # type: ignore[arg-type]
        findings += parsed.findings
        if kind == "dish":
            analysed = analyse_dish(parsed.tree, context)
            dishes.append(analysed.value)
            findings += analysed.findings
        elif kind == "event":
            event = analyse_event(parsed.tree, context)
            events.append(event.value)
            findings += event.findings
        else:
            kitchen = analyse_kitchen(parsed.tree, context)
            kitchens.append(kitchen.value)
            findings += kitchen.findings
    linked = link_book(settings, dishes, events, kitchens, ())
    return linked, (*findings, *linked.findings)


def slugs(findings: tuple[Finding, ...]) -> list[str]:
    """The slugs in the order of the text."""
    return [finding.slug for finding in sorted(findings, key=lambda finding: finding.order)]


def use(value: Dish, text: str) -> Use:
    """The use whose mark reads so, brackets and all."""
    return next(use for use in value.uses if use.span.text == text)
