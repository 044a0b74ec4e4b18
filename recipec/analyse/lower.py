"""From tree to model: a dish. Everything that later rings know of a text, they know from here."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import PurePosixPath

from recipec.analyse.balance import balance
from recipec.analyse.context import Analysed, Context, Notes
from recipec.analyse.curing import check_cures
from recipec.analyse.dimensions import Measurer, region_of, settle_hold, settle_reading
from recipec.analyse.facts import Facts, accepted, money, one_of
from recipec.analyse.flow import Flow, read_flow
from recipec.analyse.marks import StrandOutline, gear_marks, outline
from recipec.analyse.trimming import check_yields
from recipec.analyse.waits import strand_needs, waits_of
from recipec.larder.names import normal_name
from recipec.measure.quantity import Dimension
from recipec.measure.units import Region
from recipec.model import dish as model
from recipec.model.reading import TemperatureOf
from recipec.syntax import tree

# Gear whose setting a temperature in the same sentence is, by its last word; otherwise a temperature is the food's.
_OVENS = frozenset({"oven"})
_HEATED = frozenset({"fryer", "grill", "bath", "barbecue", "griddle", "iron", "smoker"})
_SHOWN_ONLY = re.compile(
    r"\b(?:every|within|after|before)(?:\s+(?:about|around|roughly|some|another))?\s*$", re.IGNORECASE
)
_NAMES_OVEN = re.compile(r"\boven\b", re.IGNORECASE)


def key_of(name: str) -> str:
    """The key of a file: its name without folder and ending."""
    return PurePosixPath(name).stem


def lower_dish(file: tree.File, context: Context) -> Analysed[model.Dish]:
    """A dish with all that is to be said of it by itself; what it asks of other dishes is linked later."""
    notes = Notes()
    facts = Facts(file)
    region = one_of(facts, "measures", tuple(item.value for item in Region), notes) or context.settings.measures
    measurer = Measurer(region_of(region), notes)
    strands = outline(file)
    serves = facts.one("serves", tree.Number)
    photo = facts.one("photo", tree.Text)
    if serves is not None and (serves.low < 1 or serves.low.denominator != 1 or serves.high.denominator != 1):
        notes.add(
            "bad-fact",
            serves.span,
            "A dish serves whole plates, one at least.",
            "Write `serves: 4`, or `makes: 1.4 l`.",
        )
        serves = None
    plates = None if serves is None else serves.low
    flow = read_flow(strands, context, measurer, notes, plates)
    balance(strands, flow, notes)
    check_yields(flow.uses, context.larder, notes)
    check_cures(flow.uses, notes)
    builder = _Builder(strands, flow, measurer, notes)
    built = builder.strands()
    gear = builder.gear_uses()
    title = file.title
    dish = model.Dish(
        key=key_of(file.span.source.name),
        title=title.text if title is not None else key_of(file.span.source.name),
        span=file.span,
        title_span=title.span if title is not None else file.span,
        serves=None if serves is None else (int(serves.low), int(serves.high)),
        makes=_makes(facts, measurer),
        course=facts.text("course"),
        keeps=tuple(settle_hold(h) for _, keeps in facts.each("keeps", tree.Keeps) for h in keeps.holdings),
        measures=region,
        tags=facts.items("tags"),
        photo=facts.text("photo"),
        source=facts.text("source"),
        accepted=accepted(facts, notes),
        tolerance=_tolerance(facts),
        whole_batches=one_of(facts, "batch", ("whole", "exact"), notes) == "whole",
        price=money(facts.one("price", tree.Sum)),
        uses=tuple(flow.uses),
        gear=gear,
        strands=built,
        things=_things(flow),
        photo_span=None if photo is None else photo.span,
    )
    measurer.unsaid()
    return Analysed(dish, notes.done())


def _makes(facts: Facts, measurer: Measurer) -> model.Yield | None:
    value = facts.one("makes", tree.Yield)
    if value is None:
        return None
    plate = None if value.plate is None else measurer.amount(value.plate).total()
    return model.Yield(measurer.amount(value.amount), value.noun, plate)


def _tolerance(facts: Facts) -> Fraction:
    value = facts.one("tolerance", tree.Degrees)
    return Fraction(0) if value is None else value.kelvins


def _things(flow: Flow) -> tuple[model.Thing, ...]:
    return tuple(
        model.Thing(
            account.key,
            account.name,
            account.kind,
            account.ingredient.key if account.ingredient else None,
            account.amount,
            account.origin,
            account.step,
            account.strand,
            account.discarded,
        )
        for account in flow.namespace.accounts
    )


@dataclass(slots=True)
class _Builder:
    """Builds strands, steps and gear; holds the oven's temperature while it walks, since that carries over in a strand."""

    outlines: tuple[StrandOutline, ...]
    flow: Flow
    measurer: Measurer
    notes: Notes
    opening_heat: bool = False

    def gear_uses(self) -> tuple[model.GearUse, ...]:
        """Every gear mark by number, in the order of the text."""
        return tuple(self._gear(number, mark.gear) for number, mark in enumerate(gear_marks(self.outlines)))

    def _gear(self, number: int, gear: tree.Gear) -> model.GearUse:
        amount, pieces = None, 1
        if gear.amount is not None:
            settled = self.measurer.amount(gear.amount)
            total = settled.total()
            if total is not None and total.unit.name == "piece":
                pieces = max(1, int(total.high))
            else:
                amount = settled
        takes = next((detail for detail in gear.details if isinstance(detail, tree.Takes)), None)
        recovers = next((detail for detail in gear.details if isinstance(detail, tree.Recovers)), None)
        takes_amount = None if takes is None else self.measurer.amount(takes.amount)
        if takes is not None and takes_amount is not None and takes_amount.terms[0].unit.dimension is Dimension.TIME:
            self.notes.add(
                "wrong-dimension",
                takes.span,
                "How much fits is an amount, not a time.",
                "Write `takes 2 plates` or `takes 700 ml`.",
            )
        return model.GearUse(
            number=number,
            span=gear.span,
            name=gear.name.text,
            key=normal_name(gear.name.text),
            pieces=pieces,
            same=gear.article == "the",
            amount=amount,
            size=", ".join(detail.text for detail in gear.details if isinstance(detail, tree.Treatment)),
            takes=takes_amount,
            takes_plates=takes is not None and takes.amount.terms[0].unit == "plate",
            recovers=None if recovers is None else recovers.seconds,
        )

    def strands(self) -> tuple[model.Strand, ...]:
        """Every strand with its blocks, what it makes and what it needs."""
        gear_numbers = {mark.gear.span.start: number for number, mark in enumerate(gear_marks(self.outlines))}
        waits = waits_of(self.flow)
        needs = strand_needs(self.outlines, waits)
        made = _made_by_strand(self.outlines, self.flow)
        built = []
        for index, strand in enumerate(self.outlines):
            hot = self.opening_heat
            blocks: list[model.Block] = []
            for block, number in strand.blocks:
                hot = self._check_oven(block, hot)
                lowered = self._block(block, number, gear_numbers, waits)
                if lowered is not None:
                    blocks.append(lowered)
            if index == 0 and strand.heading is None:
                self.opening_heat = hot
            span = strand.heading.span if strand.heading is not None else strand.blocks[0][0].span
            heading = strand.heading.shown if strand.heading is not None else ""
            built.append(model.Strand(span, heading, made.get(index), tuple(blocks), needs.get(index, ())))
        return tuple(built)

    def _block(
        self, block: tree.Block, number: int | None, gear: dict[int, int], waits: dict[int, tuple[int, ...]]
    ) -> model.Block | None:
        match block:
            case tree.Step() if number is not None:
                sentences = tuple(model.Sentence(self._pieces(sentence.pieces, gear)) for sentence in block.sentences)
                makes = tuple(self._made(result) for result in block.results)
                return model.Step(number, block.span, sentences, makes, waits.get(number, ()))
            case tree.LayOut():
                return model.LayOut(block.span, self._laid_out(block))
            case tree.Aside():
                return model.Aside(block.span, self._pieces(block.pieces, gear))
            case tree.Stop():
                return model.Stop(block.span, settle_hold(block.holding))
            case _:
                return None

    def _laid_out(self, block: tree.LayOut) -> tuple[int, ...]:
        numbers = []
        for food in block.foods:
            first, plus = self.flow.at[food.span.start]
            second = self.flow.pairs.get(food.span.start)
            numbers += [number for number in (first, plus, second) if number is not None]
        return tuple(numbers)

    def _made(self, result: tree.Result) -> model.Made:
        account = next(a for a in self.flow.namespace.accounts if a.origin == result.name.span)
        hold = None if result.holding is None else settle_hold(result.holding)
        return model.Made(result.span, account.key, result.name.text, account.amount, hold, result.discarded)

    def _pieces(self, pieces: tuple[tree.Piece, ...], gear: dict[int, int]) -> tuple[model.Piece, ...]:
        of = _heated(pieces)
        lowered: list[model.Piece] = []
        before = ""
        for piece in pieces:
            match piece:
                case tree.Words():
                    lowered.append(model.Words(piece.text))
                case tree.Food():
                    lowered.append(model.FoodAt(*self.flow.at[piece.span.start]))
                    if piece.span.start in self.flow.pairs:
                        lowered += (model.Words(" and "), model.FoodAt(self.flow.pairs[piece.span.start]))
                case tree.Gear():
                    lowered.append(model.GearAt(gear[piece.span.start]))
                case tree.Reading():
                    shown_only = _SHOWN_ONLY.search(before) is not None
                    lowered.append(model.ReadingAt(settle_reading(piece, of, shown_only, self.measurer)))
            before = piece.text if isinstance(piece, tree.Words) else ""
        return tuple(lowered)

    def _check_oven(self, block: tree.Block, hot: bool) -> bool:
        """Whether the oven's temperature is known after this block; baking at none is noted."""
        if not isinstance(block, tree.Step):
            return hot
        for sentence in block.sentences:
            oven = next(
                (piece for piece in sentence.pieces if isinstance(piece, tree.Gear) and _last(piece) in _OVENS), None
            )
            if _heated(sentence.pieces) is TemperatureOf.OVEN and _has_temperature(sentence.pieces):
                hot = True
            timed = any(isinstance(p, tree.Reading) and isinstance(p.value, tree.Duration) for p in sentence.pieces)
            if oven is not None and timed and not hot:
                self.notes.add(
                    "bad-reading",
                    oven.span,
                    "How hot is the oven here? Nothing above in this part says.",
                    "Give it a temperature: Set the {oven} to <200 °C>.",
                )
                hot = True
        return hot


def _made_by_strand(strands: tuple[StrandOutline, ...], flow: Flow) -> dict[int, str]:
    made: dict[int, str] = {}
    for index, strand in enumerate(strands[:-1]):
        last = strand.last_step()
        if last is None:
            continue
        for account in flow.namespace.accounts:
            if account.kind is model.ThingKind.MADE and account.step == last[1] and not account.discarded:
                made.setdefault(index, account.key)
    return made


def _last(gear: tree.Gear) -> str:
    return normal_name(gear.name.text).rpartition(" ")[2]


def _heated(pieces: Iterable[tree.Piece]) -> TemperatureOf:
    """Whose temperature a sentence gives: what it names of ovens and other heated gear, in marks or in words."""
    pieces = tuple(pieces)
    gear = {_last(piece) for piece in pieces if isinstance(piece, tree.Gear)}
    if gear & _OVENS or any(isinstance(piece, tree.Words) and _NAMES_OVEN.search(piece.text) for piece in pieces):
        return TemperatureOf.OVEN
    return TemperatureOf.GEAR if gear & _HEATED else TemperatureOf.FOOD


def _has_temperature(pieces: Iterable[tree.Piece]) -> bool:
    return any(
        isinstance(piece, tree.Reading) and isinstance(piece.value, tree.Temperature) and piece.value.kind != "core"
        for piece in pieces
    )
