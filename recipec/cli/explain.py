"""`recipec explain`."""

from __future__ import annotations

import re
from pathlib import Path

import click

from recipec.base.finding import KINDS
from recipec.base.places import findings_dir
from recipec.cli import options
from recipec.cli.output import put

_FENCE = re.compile(r"^```(\S+)?\s*(\S+)?\s*$")


@click.command()
@click.argument("slug")
@options.several(options.formats(["text", "json"]), options.output)
def command(slug: str, form: str, output: Path | None) -> None:
    """Say what a finding means, with an example. SLUG is the word behind its severity.

    \b
    Example:
      recipec explain used-up
    """
    if slug not in KINDS:
        from recipec.base.suggest import nearest

        near = nearest(slug, sorted(KINDS))
        hint = f" Did you mean {' or '.join(repr(name) for name in near[:3])}?" if near else ""
        raise click.UsageError(f"There is no finding {slug!r}.{hint}")
    kind = KINDS[slug]
    page = _page(slug)
    if form == "json":
        import json

        data = {"slug": slug, "severity": str(kind.severity), "family": kind.family, "page": page}
        put(json.dumps(data, ensure_ascii=False, indent=2) + "\n", output)
        return
    put(as_text(page, str(kind.severity)), output)


def _page(slug: str) -> str:
    return (findings_dir() / f"{slug}.md").read_text(encoding="utf-8")


def as_text(page: str, severity: str) -> str:
    """A page of the reference for a terminal: the heading with its severity, examples set in, prose as it is."""
    rows: list[str] = []
    inside = False
    lead = ""
    for line in page.splitlines():
        fence = _FENCE.match(line)
        if fence is not None:
            # A report is set for a terminal already, to its full width.
            lead = "" if fence[1] == "report" else "    "
            inside = not inside
            if fence[2]:
                rows.append(f"{fence[2]}:")
            continue
        if inside:
            rows.append(f"{lead}{line}".rstrip())
        elif line.startswith("# "):
            rows.append(f"{line[2:].strip()} ({severity})")
        else:
            rows.append(line.lstrip("#").lstrip() if line.startswith("#") else line)
    return "\n".join(rows).rstrip() + "\n"
