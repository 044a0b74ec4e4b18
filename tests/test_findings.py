"""Every registered finding has a page; every page's example gives that finding, and the report it prints."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.base.finding import KINDS
from tests.findings_page import PAGES, compiled, read_page, report_of, with_report


def test_every_slug_has_a_page_and_every_page_a_slug() -> None:
    assert sorted(path.stem for path in PAGES.glob("*.md")) == sorted(KINDS)


@pytest.mark.parametrize("slug", sorted(KINDS))
def test_the_page_shows_what_the_compiler_says(slug: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    path = PAGES / f"{slug}.md"
    page = read_page(path)
    build = compiled(page, tmp_path)
    assert slug in {finding.slug for finding in build.findings}, report_of(build)
    report = report_of(build)
    if request.config.getoption("--update"):
        path.write_text(with_report(page, report), encoding="utf-8")
    else:
        assert page.report == report


@pytest.mark.parametrize("slug", sorted(KINDS))
def test_every_finding_says_what_to_do(slug: str, tmp_path: Path) -> None:
    build = compiled(read_page(PAGES / f"{slug}.md"), tmp_path)
    for finding in build.findings:
        if finding.slug == slug:
            assert finding.hints or finding.fixes, f"{slug} only complains"
            assert finding.message.endswith((".", "?"))
            assert finding.span.start <= finding.span.end <= len(finding.span.source.text)
