"""A small LALR(1) driver over the shipped table: offsets only, no token objects, no lark.

A test holds it equal to lark's own parse of the same grammar.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from recipec.syntax.table import Matcher, Table

Handler = Callable[[Any, list[Any]], Any]
"""Takes the builder and the values of a rule's symbols: `(start, end)` for a terminal, whatever was built for a rule."""


class Stuck(NamedTuple):
    """The parse stopped: at which offset, and the names of the terminals that could have stood there."""

    at: int
    expected: frozenset[str]


class Driver:
    """Parses stretches of text by the table, calling one handler for each rule."""

    __slots__ = ("_actions", "_gotos", "_matchers", "_orders", "_rules", "_scanner_of", "_scanners", "_table")

    def __init__(self, table: Table, handlers: Sequence[Handler]) -> None:
        self._table = table
        self._rules = tuple(
            (symbol, length, handler) for (_, symbol, length), handler in zip(table.rules, handlers, strict=True)
        )
        self._actions = table.actions
        self._gotos = table.gotos
        self._orders = table.orders
        self._scanner_of = table.scanner_of
        # A scanner is compiled when a state first needs it: most files need few of them.
        self._scanners: list[Matcher | None] = [None] * len(table.orders)
        self._matchers: list[Matcher | None] = [None] * len(table.scanner_of)

    def _matcher(self, state: int) -> Matcher:
        number = self._scanner_of[state]
        found = self._scanners[number]
        if found is None:
            groups = "|".join(f"({self._table.patterns[terminal]})" for terminal in self._orders[number])
            # Without terminals only the end may follow: a pattern that never matches.
            found = re.compile(groups or "(?!)").match
            self._scanners[number] = found
        self._matchers[state] = found
        return found

    def parse(self, start: str, text: str, pos: int, end: int, builder: Any) -> Any:
        """What the start rule's handler built, or `Stuck`. `text[pos:end]` must hold all of it and nothing else."""
        state = self._table.starts[start]
        final = self._table.ends[start]
        states = [state]
        values: list[Any] = []
        actions, gotos, rules = self._actions, self._gotos, self._rules
        matchers, orders, scanner_of = self._matchers, self._orders, self._scanner_of
        while True:
            if pos < end:
                found = (matchers[state] or self._matcher(state))(text, pos, end)
                if found is None:
                    return self._stuck(pos, state)
                terminal = orders[scanner_of[state]][found.lastindex - 1]  # type: ignore[operator]
            else:
                terminal = 0
            while True:
                action = actions[state].get(terminal, 0)
                if action > 0:
                    after = found.end()  # type: ignore[union-attr]
                    values.append((pos, after))
                    pos = after
                    state = action - 1
                    states.append(state)
                    break
                if action == 0:
                    # A single terminal of a scanner always has an action; what is missing here is the end.
                    return self._stuck(pos, state)
                symbol, length, handler = rules[-1 - action]
                built = handler(builder, values[-length:])
                del values[-length:]
                del states[-length:]
                state = gotos[states[-1]][symbol]
                states.append(state)
                values.append(built)
                if state == final and terminal == 0:
                    return built

    def _stuck(self, pos: int, state: int) -> Stuck:
        return Stuck(pos, frozenset(self._table.terminals[terminal] for terminal in self._actions[state]))
