"""A small LALR(1) driver over the shipped table: offsets only, no token objects, no lark.

Two ways give the same result. `_step_by_step` is the plain algorithm. Most marks, though, have one of a few shapes (number,
unit, name), and what the table does with a shape never changes: so shapes are kept as a tree of the terminals seen so
far, and the reductions of a shape become one expression. That spares the stacks, which cost more than the reading.
A test holds both ways equal to lark's own parse of the same grammar.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from recipec.syntax.table import Matcher, Table

Handler = Callable[[Any, list[Any]], Any]
"""Takes the builder and the values of a rule's symbols: `(start, end)` for a terminal, whatever was built for a rule."""

_DEEPEST = 14
"""Longer shapes are rare, and parsed step by step."""
_MOST_SHAPES = 4000
"""A bound for a process that reads hostile text for hours."""
_WARM = 32
"""Uses after which a scanner's terminals are joined into one pattern: a handful of dishes."""


class Stuck(NamedTuple):
    """The parse stopped: at which offset, and the names of the terminals that could have stood there."""

    at: int
    expected: frozenset[str]


class _Found:
    """What a cold scanner found: as much of a match as the driver asks for."""

    __slots__ = ("_end", "lastindex")

    def __init__(self, lastindex: int, end: int) -> None:
        self.lastindex = lastindex
        self._end = end

    def end(self) -> int:
        """The offset after it."""
        return self._end


class _Cold:
    """A scanner that tries its terminals one after another, until it has been used often enough to be worth a pattern of its own.

    Compiling is most of what the check of one dish costs. Terminals are shared by many scanners, so one by one they are few.
    """

    __slots__ = ("_driver", "_number", "_uses")

    def __init__(self, driver: Driver, number: int) -> None:
        self._driver = driver
        self._number = number
        self._uses = 0

    def __call__(self, text: str, pos: int, end: int) -> _Found | None:
        self._uses += 1
        if self._uses > _WARM:
            self._driver.warm(self._number)
        for group, match in enumerate(self._driver.singly(self._number), 1):
            found = match(text, pos, end)
            if found is not None:
                return _Found(group, found.end())
        return None


class _Shape:
    """The terminals seen so far. `after` holds the next shape for each group of its scanner, None until it is met."""

    __slots__ = ("after", "depth", "end", "made", "program", "scanner", "states", "uses")

    def __init__(
        self, scanner: int, groups: int, depth: int, states: tuple[int, ...], made: tuple[str, ...], end: int
    ) -> None:
        self.scanner = scanner
        self.after: list[_Shape | None] = [None] * (groups + 1)
        self.depth = depth
        self.states = states
        self.made = made
        self.end = end
        self.uses = 0
        self.program: Callable[[Any, list[tuple[int, int]]], Any] | None = None


class Driver:
    """Parses stretches of text by the table, calling one handler for each rule."""

    __slots__ = ("_handlers", "_roots", "_rules", "_scanners", "_shapes", "_table", "_terminals")

    def __init__(self, table: Table, handlers: Sequence[Handler]) -> None:
        self._table = table
        self._handlers = {f"h{number}": handler for number, handler in enumerate(handlers)}
        self._rules = tuple(
            (symbol, length, handler) for (_, symbol, length), handler in zip(table.rules, handlers, strict=True)
        )
        self._scanners: list[Matcher | _Cold] = [_Cold(self, number) for number in range(len(table.orders))]
        # A terminal is compiled when a scanner first tries it: most files need few of them.
        self._terminals: list[Matcher | None] = [None] * len(table.patterns)
        self._roots: dict[str, _Shape] = {}
        self._shapes = 0

    def parse(self, start: str, text: str, pos: int, end: int, builder: Any) -> Any:
        """What the start rule's handler built, or `Stuck`. `text[pos:end]` must hold all of it and nothing else."""
        shape = self._roots.get(start) or self._root(start)
        begin = pos
        scanners = self._scanners
        tokens: list[tuple[int, int]] = []
        while pos < end:
            found = scanners[shape.scanner](text, pos, end)
            if found is None:
                return self._step_by_step(start, text, begin, end, builder)
            group: int = found.lastindex  # type: ignore[assignment]
            following = shape.after[group] or self._grow(shape, group)
            if following is None:
                return self._step_by_step(start, text, begin, end, builder)
            shape = following
            after = found.end()
            tokens.append((pos, after))
            pos = after
        program = shape.program or self._program(shape)
        if program is None:
            return self._step_by_step(start, text, begin, end, builder)
        return program(builder, tokens)

    # ------------------------------------------------------------ shapes

    def warm(self, number: int) -> None:
        """Join a scanner's terminals into one pattern."""
        # The empty group behind each branch tells which one matched. A group around it would hide the branch's first
        # character from the engine, which passes over a branch by that character alone.
        groups = "|".join(f"(?:{self._table.patterns[terminal]})()" for terminal in self._table.orders[number])
        # Without terminals only the end may follow: a pattern that never matches.
        self._scanners[number] = re.compile(groups or "(?!)").match

    def singly(self, number: int) -> Iterator[Matcher]:
        """The terminals of a scanner in lark's own order, each compiled when it is first tried."""
        for terminal in self._table.orders[number]:
            match = self._terminals[terminal]
            if match is None:
                match = self._terminals[terminal] = re.compile(self._table.patterns[terminal]).match
            yield match

    def _scanner(self, state: int) -> int:
        return self._table.scanner_of[state]

    def _order(self, state: int) -> tuple[int, ...]:
        return self._table.orders[self._table.scanner_of[state]]

    def _root(self, start: str) -> _Shape:
        state = self._table.starts[start]
        shape = _Shape(self._scanner(state), len(self._order(state)), 0, (state,), (), self._table.ends[start])
        self._roots[start] = shape
        return shape

    def _reduced(self, shape: _Shape, terminal: int) -> tuple[list[int], list[str], int]:
        """The stacks after every reduction before `terminal`, values as expressions; and the action: 0 for none."""
        states, made = list(shape.states), list(shape.made)
        while True:
            action = self._table.actions[states[-1]].get(terminal, 0)
            if action >= 0:
                return states, made, action
            name, symbol, length = self._table.rules[-1 - action]
            values = made[-length:]
            del made[-length:]
            del states[-length:]
            made.append(values[0] if name == "same" else f"h{-1 - action}(b,[{','.join(values)}])")
            states.append(self._table.gotos[states[-1]][symbol])
            if terminal == 0 and states[-1] == shape.end and len(states) == 2:
                return states, made, 1

    def _grow(self, shape: _Shape, group: int) -> _Shape | None:
        if shape.depth >= _DEEPEST or self._shapes >= _MOST_SHAPES:
            return None
        states, made, action = self._reduced(shape, self._order(shape.states[-1])[group - 1])
        if action == 0:
            return None
        states.append(action - 1)
        made.append(f"t[{shape.depth}]")
        state = action - 1
        grown = _Shape(
            self._scanner(state), len(self._order(state)), shape.depth + 1, tuple(states), tuple(made), shape.end
        )
        self._shapes += 1
        shape.after[group] = grown
        return grown

    def _program(self, shape: _Shape) -> Callable[[Any, list[tuple[int, int]]], Any] | None:
        """The reductions of a whole shape as one expression; None when it is met for the first time, or is no whole one."""
        shape.uses += 1
        if shape.uses < 2:
            return None
        _, made, action = self._reduced(shape, 0)
        if action == 0:
            return None
        # The expression holds rule and token numbers only, nothing of any text.
        shape.program = eval(f"lambda b,t: {made[0]}", dict(self._handlers))
        return shape.program

    # ------------------------------------------------------------ the plain algorithm

    def _step_by_step(self, start: str, text: str, pos: int, end: int, builder: Any) -> Any:
        table = self._table
        state = table.starts[start]
        final = table.ends[start]
        states = [state]
        values: list[Any] = []
        while True:
            after = pos
            terminal = 0
            if pos < end:
                found = self._scanners[self._scanner(state)](text, pos, end)
                if found is None:
                    return self._stuck(pos, state)
                terminal = self._order(state)[found.lastindex - 1]  # type: ignore[operator]
                after = found.end()
            while True:
                action = table.actions[state].get(terminal, 0)
                if action > 0:
                    values.append((pos, after))
                    pos = after
                    state = action - 1
                    states.append(state)
                    break
                if action == 0:
                    return self._stuck(pos, state)
                symbol, length, handler = self._rules[-1 - action]
                built = handler(builder, values[-length:])
                del values[-length:]
                del states[-length:]
                state = table.gotos[states[-1]][symbol]
                states.append(state)
                values.append(built)
                if terminal == 0 and state == final and len(states) == 2:
                    return built

    def _stuck(self, pos: int, state: int) -> Stuck:
        return Stuck(pos, frozenset(self._table.terminals[terminal] for terminal in self._table.actions[state]))
