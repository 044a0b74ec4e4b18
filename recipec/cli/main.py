"""The command `recipec`: finds the command asked for, and keeps every fault of ours from looking like the cook's."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NoReturn

import click

from recipec import __version__

INTERNAL = 70  # EX_SOFTWARE of sysexits.h
INTERRUPTED = 130  # what a shell reports for Ctrl-C

# Name → its line in `recipec --help`. The module of that name in this folder holds the click command `command`.
COMMANDS: Mapping[str, str] = MappingProxyType(
    {
        "new": "Start a book that builds at once.",
        "check": "Say what is wrong, and what to write instead.",
        "build": "Make the whole cookbook.",
        "watch": "Build, and build again whenever a file changes.",
        "card": "One dish as a card, for as many plates as wanted.",
        "market": "One market list for one or several events.",
        "cost": "What an event or a dish costs, and what to change.",
        "timeline": "Who does what when, so that every course lands on time.",
        "guests": "Who must not have what, and what is in every dish.",
        "convert": "A sum at the bench: amounts and temperatures.",
        "explain": "What a finding means, with an example.",
    }
)


class Commands(click.Group):
    """A group that imports a command's module only when that command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order a cook meets them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        if cmd_name not in COMMANDS:
            return None
        found = importlib.import_module(f"recipec.cli.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but an unknown name is answered with the nearest ones."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from recipec.base.suggest import nearest

            near = nearest(args[0], list(COMMANDS))
            ctx.fail(f"There is no command {args[0]!r}." + (f" Did you mean {near[0]!r}?" if near else ""))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """From the table, so that help loads nothing."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, message="%(prog)s %(version)s")
def recipec() -> None:
    """Plain-text recipes made into cards, market lists and a cookbook.

    \b
    Start here:
      recipec new my-book
      recipec build my-book
    """


def main() -> NoReturn:
    """Run the command; never shows a stack trace, unless RECIPEC_TRACE is set."""
    # One short run that keeps all it makes: looking for rubbish would only cost time. `watch` turns it on again.
    gc.disable()
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter gets its number instead of an error.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        code = run()
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read the output has enough, as `head` has. What is still buffered goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = 0
    sys.exit(code)


def run(words: Sequence[str] | None = None) -> int:
    """One command line, without `recipec` itself; the process's own when None. Returns the exit code."""
    try:
        result = recipec.main(words, standalone_mode=False, prog_name="recipec")
        return result if isinstance(result, int) else 0
    except click.ClickException as problem:
        problem.show()
        return problem.exit_code
    except (click.Abort, KeyboardInterrupt):
        return INTERRUPTED
    except BrokenPipeError:
        raise
    except Exception as fault:  # the last resort: a cook never sees a stack trace
        if os.environ.get("RECIPEC_TRACE"):
            raise
        click.echo(internal_error(fault), err=True)
        return INTERNAL


def internal_error(fault: Exception) -> str:
    """Two lines for a fault of ours: that it is one, and what to pass on."""
    trace = fault.__traceback__
    place = "?"
    while trace is not None:
        file = trace.tb_frame.f_code.co_filename.replace("\\", "/")
        if "/recipec/" in file:
            place = f"{file.rsplit('/recipec/', 1)[1]}:{trace.tb_lineno}"
        trace = trace.tb_next
    return (
        "recipec has a fault of its own here; your files are as they were, and it is not your mistake.\n"
        f"Please report this line with the file that caused it: recipec {__version__} {type(fault).__name__} {place}"
    )
