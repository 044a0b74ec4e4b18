"""The accounts of what a dish makes itself: its arrows and its strands, each visible from its end on."""

from __future__ import annotations

from dataclasses import dataclass

from recipec.analyse.context import Notes
from recipec.analyse.dimensions import Measurer
from recipec.analyse.marks import StrandOutline, final_strand
from recipec.analyse.names import Account, Namespace
from recipec.base.finding import Label
from recipec.base.span import Span
from recipec.larder.names import normal_name
from recipec.model.dish import ThingKind
from recipec.syntax import tree


def open_made(strands: tuple[StrandOutline, ...], namespace: Namespace, measurer: Measurer, notes: Notes) -> None:
    """Opens the accounts of all results and strands, before any mark is read."""
    _Opener(namespace, measurer, notes).open_made(strands)


@dataclass(slots=True)
class _Opener:
    namespace: Namespace
    measurer: Measurer
    notes: Notes

    def open_made(self, strands: tuple[StrandOutline, ...]) -> None:
        """Accounts of all results and strands, each visible from its end on."""
        for index, strand in enumerate(strands):
            start = strand.heading.span.start if strand.heading else 0
            for block, number in strand.blocks:
                if isinstance(block, tree.Step):
                    for result in block.results:
                        self._open_result(result, block, number, index, start)
            self._open_strand(strands, index, start)

    def _open_result(self, result: tree.Result, block: tree.Step, number: int | None, strand: int, start: int) -> None:
        name = normal_name(result.name.text)
        twice = self._made(name)
        if twice is not None and not result.discarded:
            self._twice(result.name.span, result.name.text, twice)
        amount = None if result.amount is None else self.measurer.food_amount(result.amount, name)
        account = Account(
            name, result.name.text, ThingKind.MADE, {name}, result.name.span, number, strand, block.span.end, start
        )
        account.discarded = result.discarded
        account.bring_in(amount)
        self.namespace.open(account)

    def _open_strand(self, strands: tuple[StrandOutline, ...], index: int, start: int) -> None:
        strand = strands[index]
        last = strand.last_step()
        if strand.heading is None or last is None or index >= final_strand(strands) or not strand.has_marks:
            return
        block, number = last
        name = normal_name(strand.heading.name.text)
        if block.results:
            own = [a for a in self.namespace.accounts if a.step == number and a.kind is ThingKind.MADE]
            for account in own:
                # A strand named as its own last arrow is one thing, so it may be spoken of while it is being made.
                account.by_strand = name in account.names
            return
        twice = self._made(name)
        if twice is not None:
            self._twice(strand.heading.name.span, strand.heading.name.text, twice)
        account = Account(
            name,
            strand.heading.name.text,
            ThingKind.MADE,
            {name},
            strand.heading.name.span,
            number,
            index,
            block.span.end,
            start,
        )
        account.by_strand = True
        self.namespace.open(account)

    def _made(self, name: str) -> Account | None:
        made = (a for a in self.namespace.accounts if a.kind is ThingKind.MADE and not a.discarded)
        return next((account for account in made if name in account.names), None)

    def _twice(self, span: Span, name: str, first: Account) -> None:
        first.meant = True
        self.notes.add(
            "made-twice",
            span,
            f"`{name}` is made here, and was made before: which one a later `the {name}` means can't be told.",
            "Give one of them another name.",
            labels=(Label(first.origin, "made here first"),),
        )
