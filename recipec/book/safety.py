"""Every finding on the safety of guests: of dishes by themselves, and of what events serve to whom. Each check is a line here."""

from __future__ import annotations

from recipec.analyse.accept import accept
from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.dish import Dish, FoodAt, ReadingAt, Role, Step
from recipec.model.reading import Duration, State
from recipec.plan.spoken_foods import spoken_foods


def safety_of_all(book: Book, larder: Larder, broken: frozenset[str] = frozenset()) -> tuple[Finding, ...]:
    """All of them, with the cook's reasons where a fact `accept:` of the dish or of the event gives one; some can never be accepted.

    `broken` are files with errors: what is cooked there, and how, can't be read yet.
    """
    found: list[Finding] = []
    found += cooking_of_all(book, larder, broken)
    found += guests_of_all(book, larder)
    found += leaving_out_of_all(book, larder)
    return tuple(found)


def guests_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """What guests are served that they must not have, and alternatives that trade one allergen for another."""
    found: list[Finding] = []
    # Loaded only where there is anything to judge: the check of one plain dish must feel instant.
    speaking = [dish for dish in book.dishes if next(spoken_foods(dish, larder), None) is not None]
    if speaking:
        from recipec.plan.links import Links
        from recipec.plan.unmarked import unmarked_findings

        links = Links(book)
        found += (finding for dish in speaking for finding in unmarked_findings(links, larder, dish))
    if any(use.choices for dish in book.dishes for use in dish.uses):
        from recipec.plan.guests_swaps import swap_findings

        found += swap_findings(book, larder)
    if any(event.seats for event in book.events):
        from recipec.plan.guests_findings import NEVER_ACCEPTED, guests_findings

        said = [finding for event in book.events for finding in guests_findings(book, larder, event)]
        found += (finding for finding in said if finding.slug not in NEVER_ACCEPTED)
        return (
            *accept(found, book.dishes, book.events),
            *(finding for finding in said if finding.slug in NEVER_ACCEPTED),
        )
    return accept(found, book.dishes, book.events)


def cooking_of_all(book: Book, larder: Larder, broken: frozenset[str]) -> tuple[Finding, ...]:
    """What is raw or under its core, how it is cooled, held and heated again, and for whom that may not be."""
    dishes = [dish for dish in book.dishes if dish.span.source.name not in broken]
    # The work of a dish is read only where something in it can spoil, or is kept; or in what it is made with.
    asking = {dish.key for dish in dishes if _asks(dish, larder)}
    while more := {
        dish.key for dish in dishes if dish.key not in asking and any(key in asking for _, key in dish.links)
    }:
        asking |= more
    frail = any(event.expecting or event.under_five for event in book.events)
    if not asking and not frail:
        return ()
    from recipec.plan.links import Links
    from recipec.plan.safety_cores import core_findings
    from recipec.plan.safety_holding import holding_findings
    from recipec.plan.safety_trace import Tracer

    rules = book.settings.safety
    whole = book._replace(dishes=tuple(dishes))
    tracer = Tracer(Links(whole), larder)
    drawn = {key for dish in dishes for _, key in dish.links}
    ordered = {order.dish for event in book.events for course in event.courses for order in course.orders}
    found: list[Finding] = []
    for dish in dishes:
        if dish.key not in asking:
            continue
        trace = tracer.trace(dish)
        found += core_findings(trace, rules, served=dish.key in ordered or dish.key not in drawn)
        found += holding_findings(trace, rules)
    for event in book.events:
        from recipec.plan.safety_guests import fragile_findings

        if event.span.source.name not in broken:
            found += fragile_findings(whole, larder, tracer, event, rules)
    return accept(found, book.dishes, book.events)


def _asks(dish: Dish, larder: Larder) -> bool:
    """Whether anything in a dish can be raw, can spoil, is cooled, or may be kept under oil or without air."""
    from recipec.plan.safety_foods import Kind, covers, kind_of, spoils

    holds = [made.hold for step in dish.steps() for made in step.makes if made.hold is not None]
    if any(hold.state in (State.CHILLED, State.FROZEN) for hold in holds):
        return True
    bought = [use for use in dish.uses if use.role is Role.BUY]
    items = {use.number: None if use.item is None else larder.get(use.item) for use in bought}
    if any(kind_of(use, items[use.number]) is not Kind.NONE or spoils(use, items[use.number]) for use in bought):
        return True
    if _long_in_the_open(dish) or _may_cool(dish):
        from recipec.plan.safety_plants import cooked_spoils

        if dish.links or any(cooked_spoils(use, items[use.number]) for use in bought):
            return True
    if not holds and not dish.keeps:
        return False
    text = "".join(strand.span.text for strand in dish.strands).lower()
    return covers((use, items[use.number]) for use in bought) or any(
        word in text for word in ("vacuum", "vac-pac", "confit", "bath")
    )


_SHORT_S = 7200
_COOKING = frozenset("fry roast bake boil simmer poach grill steam braise toast sweat cook blanch char griddle".split())


def _long_in_the_open(dish: Dish) -> bool:
    """Whether what it leaves may stand neither cold nor hot for longer than the strictest rule set allows, all its times together."""
    steps = tuple(dish.steps())
    holds = [made.hold for step in steps for made in step.makes if made.hold is not None]
    held = sum(hold.low for hold in (*holds, *dish.keeps) if hold.state in (State.ROOM, State.WARM))
    pieces = (piece for step in steps for sentence in step.sentences for piece in sentence.pieces)
    values = (piece.reading.value for piece in pieces if isinstance(piece, ReadingAt))
    return held + sum(value.low * value.times for value in values if isinstance(value, Duration)) > _SHORT_S


def _may_cool(dish: Dish) -> bool:
    """Whether a dish that keeps cold may be hot, most of it, at some time: half its foods come to heat in one strand, or one that takes up
    what others made has any gear, reading or word of cooking."""
    if all(hold.state in (State.ROOM, State.WARM, State.HOT) for hold in dish.keeps):
        return False
    brought = {use.number: use for use in dish.uses if use.role in (Role.BUY, Role.OUR)}
    for strand in dish.strands:
        text = strand.span.text
        if "{" not in text and "<" not in text and not _COOKING & set(text.lower().split()):
            continue
        numbers = {
            piece.use
            for block in strand.blocks
            if isinstance(block, Step)
            for sentence in block.sentences
            for piece in sentence.pieces
            if isinstance(piece, FoodAt)
        }
        own = {brought[number].thing for number in numbers if number in brought}
        if 2 * len(numbers & brought.keys()) >= len(brought):
            return True
        if any(number not in brought and dish.uses[number].thing not in own for number in numbers):
            return True
    return False


def leaving_out_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """What events leave out of dishes and can't be. An error: no reason makes it right."""
    if not any(order.without for event in book.events for course in event.courses for order in course.orders):
        return ()
    from recipec.plan.cannot_leave import refusal_findings

    return tuple(finding for event in book.events for finding in refusal_findings(book, larder, event))
