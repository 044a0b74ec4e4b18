"""The bank account of food, second half: does what is taken fit what is there, and is all that is made used?"""

from __future__ import annotations

from fractions import Fraction

from recipec.analyse.context import Notes
from recipec.analyse.flow import Flow
from recipec.analyse.marks import StrandOutline, final_strand
from recipec.analyse.names import Account, Taking
from recipec.analyse.plain import amount_words
from recipec.base.finding import Label
from recipec.measure.quantity import Quantity, one
from recipec.model.dish import Flag, Role, ThingKind, Use


def balance(strands: tuple[StrandOutline, ...], flow: Flow, notes: Notes) -> None:
    """Settles every taking (`flow.uses` gets fractions and amounts), then says what does not add up."""
    for account in flow.namespace.accounts:
        _settle(account, flow.uses, notes)
    last = final_strand(strands)
    for account in flow.namespace.accounts:
        if account.kind is ThingKind.MADE and not account.discarded:
            _check_used(account, strands, last, notes)
            _check_food_name(account, flow, notes)
    _check_opening(strands, flow, notes)


# ---------------------------------------------------------------- takings


def _settle(account: Account, uses: list[Use], notes: Notes) -> None:
    total = account.total()
    claims = [take for take in account.takes if take.claim == "share"]
    fractions = any(take.amount is None for take in claims) or any(take.claim == "rest" for take in account.takes)
    for take in claims:
        if take.amount is not None:
            _measure(account, take, total, fractions, notes)
    claimed = _claim_in_order(account, claims, total, notes)
    unmeasured = any(take.claim == "unmeasured" for take in account.takes)
    unknown = unmeasured or any(take.fraction is None for take in claims)
    left = None if unknown else max(Fraction(0), 1 - claimed)
    _give_rest(account, left, notes)
    for take in account.takes:
        amount = take.amount
        if amount is None and total is not None and take.fraction is not None:
            amount = one(total.scaled(take.fraction))
        if Flag.PER_PLATE in uses[take.use].flags:
            amount = uses[take.use].amount
        use = uses[take.use]
        if take.handles:
            uses[take.use] = use._replace(role=Role.HANDLE)
        elif use.role is Role.TAKE:
            uses[take.use] = use._replace(fraction=take.fraction, amount=amount)


def _has_some(account: Account, bare: Taking) -> bool:
    return any(take.strand == bare.strand and take.claim != "all" for take in account.takes)


def _measure(account: Account, take: Taking, total: Quantity | None, fractions: bool, notes: Notes) -> None:
    """The fraction that an absolute share comes to."""
    assert take.amount is not None
    asked = take.amount.contents() or take.amount.total()
    if total is None:
        if fractions:
            notes.add(
                "unit-mismatch",
                take.span,
                f"How much {account.name} there is was never said, so an amount of it can't stand beside a share of it.",
                "Say how much there is, or take shares only.",
                labels=(Label(account.origin, "no amount here"),),
            )
        return
    there = None if asked is None else account.as_unit(asked, total.unit)
    if there is None:
        notes.add(
            "unit-mismatch",
            take.span,
            f"What is taken and what there is of {account.name} are measured differently, and nothing tells how they compare.",
            "Use the same kind of unit for both.",
            labels=(Label(account.origin, f"{amount_words(total)} here"),),
        )
        return
    take.fraction = there.high / total.high if total.high else None


def _claim_in_order(account: Account, claims: list[Taking], total: Quantity | None, notes: Notes) -> Fraction:
    claimed = Fraction(0)
    for take in claims:
        if take.fraction is None:
            continue
        if claimed <= 1 < claimed + take.fraction:
            _used_up(account, take, claimed + take.fraction, total, notes)
        claimed += take.fraction
    return claimed


def _used_up(account: Account, take: Taking, claimed: Fraction, total: Quantity | None, notes: Notes) -> None:
    if total is not None:
        message = f"{amount_words(total.scaled(claimed))} of {amount_words(total)} {account.name} used."
    else:
        message = f"More of the {account.name} is taken than there is: {_words(claimed)} of it."
    earlier = [Label(other.span, "taken here") for other in account.takes if other.span.start < take.span.start]
    notes.add(
        "used-up",
        take.span,
        message,
        "Take less here, take `the rest of` it, or make more.",
        labels=(Label(account.origin, _there(account, total)), *earlier),
    )


def _there(account: Account, total: Quantity | None) -> str:
    verb = "made here" if account.kind is ThingKind.MADE else "came in here"
    return verb if total is None else f"{amount_words(total)} {verb}"


def _give_rest(account: Account, left: Fraction | None, notes: Notes) -> None:
    """What `the rest` and the first bare mention get; a second taker of all finds nothing."""
    taker: Taking | None = None
    for take in account.takes:
        if take.claim not in ("rest", "all"):
            continue
        after_all = taker is not None
        if (after_all or left == 0) and take.claim == "all" and _has_some(account, take):
            # The strand took its share and speaks of that: nothing more is drawn.
            take.handles = True
        elif after_all or left == 0:
            seen = taker.span if taker is not None else None
            notes.add(
                "used-up",
                take.span,
                f"Nothing of the {account.name} is left here.",
                "Take a share in each place: `half the …` in one and `the rest of the …` in the last.",
                labels=(
                    Label(account.origin, _there(account, account.total())),
                    *(
                        Label(other.span, "taken here")
                        for other in account.takes
                        if other.span != take.span and other.claim != "all"
                    ),
                    *(() if seen is None else (Label(seen, "all that was left went here"),)),
                ),
            )
        take.fraction = Fraction(0) if after_all else left
        taker = taker or take
    rest = next((take for take in account.takes if take.claim == "rest"), None)
    if rest is None:
        return
    for take in account.takes:
        if take.claim in ("share", "unmeasured") and take.span.start > rest.span.start:
            notes.add(
                "used-up",
                take.span,
                f"The rest of the {account.name} has gone already.",
                "Move `the rest of` to the last place that takes it.",
                labels=(Label(rest.span, "the rest was taken here"),),
            )


# ---------------------------------------------------------------- what is never used, and what is left


def _check_used(account: Account, strands: tuple[StrandOutline, ...], last: int, notes: Notes) -> None:
    ending = strands[last].last_step() if strands else None
    if account.strand == last and ending is not None and account.step == ending[1]:
        return  # what the last step of the last strand leaves is the dish
    if account.meant:
        return
    if not account.takes:
        if not _goes_on(account):
            notes.add(
                "never-used",
                account.origin,
                f"The {account.name} is made and never used.",
                f"Use it further down as [the {account.name}], or end its arrow with `, discarded`.",
            )
        return
    shares = account.takes
    if any(take.claim != "share" or take.fraction is None for take in shares):
        return
    taken = sum((take.fraction for take in shares if take.fraction is not None), Fraction(0))
    if taken < 1:
        total = account.total()
        left = _words(1 - taken) if total is None else amount_words(total.scaled(1 - taken))
        notes.add(
            "left-over",
            account.origin,
            f"{left} of the {account.name} is left over.",
            f"If the last place is to have it, write `the rest of the {account.name}` there.",
            labels=tuple(Label(take.span, "taken here") for take in shares),
        )


def _goes_on(account: Account) -> bool:
    """Whether a later step of its own strand works on with it."""
    made = account.step
    return made is not None and any(
        strand == account.strand and step is not None and step > made for strand, step, _ in account.handled
    )


def _check_food_name(account: Account, flow: Flow, notes: Notes) -> None:
    if account.by_strand:
        return
    for other in flow.namespace.accounts:
        if (
            other.kind is not ThingKind.MADE
            and other.origin.start < account.origin.start
            and account.names & other.names
        ):
            notes.add(
                "name-reused",
                account.origin,
                f"From here on `the {account.name}` is what this step leaves, no longer what came in.",
                "That is allowed; another name would be plainer.",
                labels=(Label(other.origin, "came in here"),),
            )


def _check_opening(strands: tuple[StrandOutline, ...], flow: Flow, notes: Notes) -> None:
    """An opening without a name, before other strands, must hand on what it works at."""
    if len(strands) < 2 or strands[0].heading is not None:
        return
    last = strands[0].last_step()
    if last is None or last[0].results:
        return
    brought = [a for a in flow.namespace.accounts if a.strand == 0 and a.kind is not ThingKind.MADE]
    if brought and not any(spoken.account.strand == 0 and spoken.place.strand != 0 for spoken in flow.spoken):
        notes.add(
            "never-used",
            last[0].sentences[-1].span if last[0].sentences else last[0].span,
            "What this opening part makes has no name, so nothing below can use it.",
            "End it with an arrow and a name, such as `-> base`, and take it up below as [the base].",
        )


_PLAIN = {
    Fraction(1, 2): "half",
    Fraction(1, 3): "a third",
    Fraction(2, 3): "two thirds",
    Fraction(1, 4): "a quarter",
    Fraction(3, 4): "three quarters",
}


def _words(fraction: Fraction) -> str:
    plain = _PLAIN.get(fraction)
    if plain is not None:
        return plain
    whole, rest = divmod(fraction, 1)
    if not rest:
        return f"{whole} times all"
    return f"{whole} and {rest}" if whole else str(rest)
