"""Which steps wait for which: what a dish's own text says of order across its strands."""

from __future__ import annotations

from recipec.analyse.flow import Flow, Spoken
from recipec.analyse.marks import StrandOutline
from recipec.model.dish import ThingKind


def waits_of(flow: Flow) -> dict[int, tuple[int, ...]]:
    """For every step, the steps of other strands that must be done before it.

    What an arrow or a strand made waits for the step that leaves it; food that another strand brought in, for the last step there,
    above the mention, that handled it; a share of food nobody has handled yet, for nothing.
    """
    waits: dict[int, set[int]] = {}
    for spoken in flow.spoken:
        step = spoken.place.step
        if step is None or spoken.place.strand == spoken.account.strand:
            continue
        needed = _needed(spoken)
        if needed is not None:
            waits.setdefault(step, set()).add(needed)
    return {step: tuple(sorted(needed)) for step, needed in waits.items()}


def _needed(spoken: Spoken) -> int | None:
    account = spoken.account
    if account.kind is ThingKind.MADE:
        return account.step
    handled = [
        step
        for strand, step, offset in account.handled
        if strand == account.strand and step is not None and offset < spoken.span.start
    ]
    if spoken.share and len(handled) <= 1:
        return None
    return max(handled, default=None)


def strand_needs(strands: tuple[StrandOutline, ...], waits: dict[int, tuple[int, ...]]) -> dict[int, tuple[int, ...]]:
    """For every strand, the strands whose work it waits for."""
    of_step = {
        number: index for index, strand in enumerate(strands) for _, number in strand.blocks if number is not None
    }
    needs: dict[int, set[int]] = {}
    for step, needed in waits.items():
        needs.setdefault(of_step[step], set()).update(of_step[other] for other in needed)
    return {strand: tuple(sorted(others)) for strand, others in needs.items()}
