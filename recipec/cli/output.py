"""How a command speaks: what was asked for on standard output, all else on standard error."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import click

from recipec.base.finding import Finding, Severity

WORTH_COUNTING = 300
"""Files. Fewer are done before anyone wonders."""


def colour_wanted(choice: str, *, err: bool = False) -> bool:
    """Only on a terminal that can, unless told. NO_COLOR (no-color.org) is honoured."""
    if choice != "auto":
        return choice == "always"
    stream = sys.stderr if err else sys.stdout
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def progress(quiet: bool) -> Callable[[int, int], None] | None:
    """Counts files on a terminal, for books long enough to wait for; None where nobody looks."""
    if quiet or not sys.stderr.isatty():
        return None

    def say(done: int, of: int) -> None:
        if of >= WORTH_COUNTING and (done % 50 == 0 or done == of):
            line = f"{done} of {of} files" if done < of else ""
            click.echo(f"\r{line:<30}" + ("\r" if done == of else ""), nl=False, err=True)

    return say


def put(data: str | bytes, output: Path | None) -> None:
    """To standard output, or into a file, whole or not at all. A file gets UTF-8; bytes go out as they are."""
    if output is None:
        click.echo(data, nl=False, color=True)
        return
    from recipec.book.write import Refused, write_file

    result = write_file(output, data.encode("utf-8") if isinstance(data, str) else data)
    if isinstance(result, Refused):
        raise refused(result.message, result.hint)


def refused(message: str, hint: str) -> click.ClickException:
    """An error that ends the command with exit 1."""
    return click.ClickException(f"{message} {hint}")


def shown_findings(findings: Sequence[Finding], *, hints: bool) -> list[Finding]:
    """What a person is shown: all but hints, and those too when asked."""
    return [finding for finding in findings if hints or finding.severity is not Severity.HINT]


def report(findings: Iterable[Finding], choice: str) -> None:
    """Findings as text on standard error, for commands whose output is something else."""
    from recipec.report.text import render

    text = render(findings, colour=colour_wanted(choice, err=True))
    if text:
        click.echo(text, nl=False, err=True, color=True)


def tally(findings: Sequence[Finding], files: int | None, *, hints_shown: bool) -> str:
    """One closing line: `2 errors, 1 warning; 3 hints (--all lists them).`"""
    counts = dict.fromkeys(Severity, 0)
    accepted = 0
    for finding in findings:
        if finding.accepted is None:
            counts[finding.severity] += 1
        else:
            accepted += 1
    hints = counts.pop(Severity.HINT)
    parts = [_number(count, str(severity)) for severity, count in counts.items() if count]
    line = ", ".join(parts) if parts else "Nothing wrong"
    if files is not None and not parts:
        line += f" in {_number(files, 'file')}"
    if accepted:
        line += f"; {accepted} accepted"
    if hints:
        line += f"; {_number(hints, 'hint')}" + ("" if hints_shown else " (--all lists them)")
    return f"{line}."


def _number(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
