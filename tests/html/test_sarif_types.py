"""The SARIF report against the published schema's members, by npm's @types/sarif (made from that schema) and typescript.

A member the schema requires is not optional in those types, and an object literal may hold no member they lack.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from node_tools import type_check

from recipec.book.compile import compile_book
from recipec.report import sarif

BAD = """The Roast

Heat the [oven] to {180 kelvins}. Melt [600 g butter], and [the butetr] with it -> [roux].
Stir [650 g of the butter] and [1 cup flour] in for {ever}. [
"""


def _said(tmp_path: Path) -> dict[str, Any]:
    book = tmp_path / "book"
    book.mkdir()
    (book / "the roast.dish").write_text(BAD, "utf-8")
    data: dict[str, Any] = json.loads(sarif.render(compile_book(book).findings, "1.2.3"))
    return data


def _source(data: dict[str, Any]) -> str:
    return f'import type {{ Log }} from "sarif";\nexport const log: Log = {json.dumps(data)};\n'


def test_a_report_of_many_findings_has_the_schemas_members(tmp_path: Path) -> None:
    data = _said(tmp_path)
    results = data["runs"][0]["results"]
    assert len(results) >= 4
    assert any(result.get("fixes") for result in results)
    assert any(result.get("relatedLocations") for result in results)
    checked = type_check(tmp_path, "@types/sarif", _source(data))
    assert checked.returncode == 0, checked.stdout + checked.stderr


def test_the_types_would_tell(tmp_path: Path) -> None:
    for spoil in ("missing", "foreign"):
        data = _said(tmp_path) if spoil == "missing" else json.loads(sarif.render([], "1"))
        if spoil == "missing":
            del data["runs"][0]["results"][0]["message"]
        else:
            data["runs"][0]["tool"]["driver"]["flavour"] = "sharp"
        assert type_check(tmp_path, "@types/sarif", _source(data)).returncode != 0
