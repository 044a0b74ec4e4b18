"""What a dish's text asks to be done, action by action (rules 27 to 31 of the language)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from recipec.base.span import Span
from recipec.measure.temperature import OvenSetting, Scale
from recipec.model.dish import Dish, FoodAt, GearAt, Piece, Role, Sentence, Step, Stop, Strand, ThingKind, Words
from recipec.model.reading import Attention, Duration, Reading, Temperature
from recipec.plan.action_types import Action, Heat, StopAt, Work
from recipec.plan.attend import Attend
from recipec.plan.chunks import Chunk, chunks_of, governing, handwork_before, prose, temperatures
from recipec.plan.gear_marks import first_marks
from recipec.plan.holding import held_of
from recipec.plan.kitchen_stock import Stock
from recipec.plan.work_figures import GearWork, figure, verbs

_OVEN = re.compile(r"\boven\b")
_OVEN_OFF = re.compile(r"\b(?:turn|switch)\b[^.]*\boven\b[^.]*\boff\b|\b(?:turn|switch) off\b[^.]*\boven\b")
_LIFTED = re.compile(
    r"\b(?:lift|take|turn|tip|scoop|spoon|pull|crack|fish)\b[^.]{0,40}\bout\b|\b(?:remove|unmould|strain|drain)\b|\boff the heat\b"
)
_OVER_WATER = re.compile(r"\bover\b[^.,;]*\b(?:simmering|boiling|hot|steaming)\b[^.,;]*\bwater\b")
_OFF_HEAT = re.compile(r"\boff the heat\b|\bcold water\b|\biced? water\b")
_ATTEND = {
    Attention.ALONE: Attend.ALONE,
    Attention.ATTENDED: Attend.HANDS,
    Attention.WITHIN_REACH: Attend.REACH,
}


def work_of(dish: Dish, stock: Stock) -> Work:
    """The actions of a dish with the gear that this kitchen has for them."""
    reader = _Reader(dish, stock)
    for number, strand in enumerate(dish.strands):
        reader.strand(number, strand)
    actions = reader.waiting()
    return Work(actions, held_of(actions, dish, reader.works), tuple(reader.stops))


@dataclass(slots=True)
class _State:
    """What holds within a strand: the oven's dial, where the food lies, the pan on the hob, the actions that the next one follows."""

    dial: tuple[int, int, Span] | None = None
    lies: int | None = None
    lies_work: GearWork | None = None
    oven: int | None = None
    shelves: int = 1
    pan: int | None = None
    tail: tuple[int, ...] = ()
    prefix: tuple[Piece, ...] = ()


@dataclass(slots=True)
class _Reader:
    dish: Dish
    stock: Stock
    actions: list[Action] = field(default_factory=list)
    stops: list[StopAt] = field(default_factory=list)
    opening: tuple[int, int, Span] | None = None
    done_in: dict[int, int] = field(default_factory=dict)
    marks: tuple[int, ...] = ()
    works: tuple[GearWork, ...] = ()
    ovens: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        self.marks = first_marks(self.dish)
        self.works = tuple(self.stock.find(gear.name).work for gear in self.dish.gear)
        self.ovens = frozenset(number for number, work in enumerate(self.works) if work.kind == "oven")

    def strand(self, number: int, strand: Strand) -> None:
        """All actions of a strand."""
        state = _State(dial=self.opening)
        stop: Stop | None = None
        before: int | None = None
        for block in strand.blocks:
            if isinstance(block, Stop):
                stop = block
            elif isinstance(block, Step):
                self._step(number, block, state)
                if stop is not None and before is not None:
                    self.stops.append(StopAt(before, block.number, stop.hold, stop.span))
                stop, before = None, block.number
        if stop is not None and before is not None:
            self.stops.append(StopAt(before, -1, stop.hold, stop.span))
        if number == 0 and not strand.heading:
            self.opening = state.dial

    # ------------------------------------------------------------ one step

    def _step(self, strand: int, step: Step, state: _State) -> None:
        first = len(self.actions)
        pending: list[Chunk] = []
        for sentence in step.sentences:
            for chunk in chunks_of(sentence, self.ovens):
                if chunk.preheat:
                    self._preheat(chunk, sentence, state)
                elif chunk.reading is not None:
                    self._timed(strand, step, chunk, first, pending, state)
                else:
                    self._handwork(strand, step, chunk, first, pending, state)
        self._flush(strand, step, pending, state)
        # A step without food or time (`Strain it through a {sieve}.`) is the end of the work before it.
        goes_on = len(self.actions) > first or (bool(state.tail) and bool(step.makes))
        if goes_on and state.prefix:
            self._extend(state.prefix)
            state.prefix = ()
        if goes_on:
            last = self.actions[-1]
            self.actions[-1] = replace(last, last=True, made=(*last.made, *step.makes))
            self.done_in[step.number] = last.number

    def _timed(self, strand: int, step: Step, chunk: Chunk, first: int, pending: list[Chunk], state: _State) -> None:
        """A text with a duration. What hands do before its food is left alone is handwork of its own: nobody does it meanwhile."""
        cut = handwork_before(chunk)
        if cut is None or self._attention(cut[1], state) is not Attend.ALONE:
            self._flush(strand, step, pending, state)
            self._add(strand, step, chunk, state)
            return
        head, rest = cut
        beside = state.tail if head.meanwhile else ()
        self._handwork(strand, step, head, first, pending, state)
        self._flush(strand, step, pending, state)
        state.tail = state.tail[-1:] if beside else state.tail
        self._add(strand, step, rest, state)
        state.tail = (*beside, *state.tail)

    def _handwork(self, strand: int, step: Step, chunk: Chunk, first: int, pending: list[Chunk], state: _State) -> None:
        """A text without one."""
        if (chunk.meanwhile and not chunk.has_food and len(self.actions) > first and not pending) or (
            not pending and self._attended(first) and not (chunk.meanwhile and chunk.has_food)
        ):
            self._extend(chunk.pieces)
            return
        if chunk.meanwhile and chunk.has_food:
            self._flush(strand, step, pending, state)
        pending.append(chunk)

    def _attended(self, first: int) -> bool:
        """Whether the last action of this step takes hands and a stated time: what follows belongs to it."""
        return len(self.actions) > first and self.actions[-1].attend is Attend.HANDS

    def _extend(self, pieces: tuple[Piece, ...]) -> None:
        last = self.actions[-1]
        own = tuple(mark for mark in self._marks(pieces) if mark not in last.marks)
        self.actions[-1] = replace(last, pieces=(*last.pieces, Words(" "), *pieces), marks=(*last.marks, *own))

    def _flush(self, strand: int, step: Step, pending: list[Chunk], state: _State) -> None:
        """Handwork that is an action of its own, or words that go with the next action."""
        if not pending:
            return
        pieces: tuple[Piece, ...] = ()
        for chunk in pending:
            pieces = (*pieces, *((Words(" "),) if pieces else ()), *chunk.pieces)
        whole = Chunk(pieces, None, pending[0].meanwhile)
        pending.clear()
        if whole.has_food:
            self._add(strand, step, whole, state)
        else:
            state.prefix = (*state.prefix, *((Words(" "),) if state.prefix else ()), *pieces)

    def _preheat(self, chunk: Chunk, sentence: Sentence, state: _State) -> None:
        self._set_dial(chunk.pieces, state)
        other = [m for m in self._marks(sentence.pieces) if m not in self.ovens]
        if other:
            # `Set the oven to <160 °C>, and line a {tin}`: the lining goes with the next action, the oven is lit by the plan.
            place = next(i for i, piece in enumerate(sentence.pieces) if not isinstance(piece, Words | GearAt))
            rest = sentence.pieces[place + 1 :]
            if rest and isinstance(rest[0], Words):
                rest = (Words(re.sub(r"^[\s,;]*(?:and|then)?\s*", "", rest[0].text)), *rest[1:])
            state.prefix = (*state.prefix, *rest)

    # ------------------------------------------------------------ one action

    def _add(self, strand: int, step: Step, chunk: Chunk, state: _State) -> None:
        self._set_dial(chunk.pieces, state)
        pieces = (*state.prefix, *((Words(" "),) if state.prefix else ()), *chunk.pieces)
        state.prefix = ()
        named = self._marks(chunk.pieces)
        words = prose(chunk.pieces)
        verb, subject = governing(chunk)
        resting = verb in verbs("hands-free") or verb in verbs("standing")
        oven = next((mark for mark in named if mark in self.ovens), None)
        says_oven = oven is not None or _OVEN.search(words) is not None
        vessels = [mark for mark in named if self.works[mark].kind == "gear"]
        lifted = _LIFTED.search(words) is not None
        reading = chunk.reading
        said = Attention.UNSAID if reading is None else reading.attention
        plating = reading is not None and _by_the_plate(reading)
        off = says_oven and _OVEN_OFF.search(words) is not None
        in_oven = reading is not None and (
            says_oven
            or (
                state.oven is not None and not vessels and not resting and not lifted and said is not Attention.ATTENDED
            )
        )
        in_oven = in_oven and not plating
        place = next((mark for mark in named if self.works[mark].kind in ("fridge", "freezer")), None)
        if place is None and reading is not None and resting and not vessels and not lifted and not says_oven:
            lies = state.lies
            place = lies if lies is not None and self.works[lies].kind in ("fridge", "freezer") else None
        self._move(named, vessels, verb, state)
        attend = Attend.HANDS
        if reading is not None and not (plating and said is Attention.UNSAID):
            attend = self._attend(named, says_oven, said, resting, lifted or bool(vessels), state)
        heat = self._heat(oven, off, chunk, state) if in_oven else None
        state.shelves = heat.shelves if heat is not None else 1
        state.oven = (oven if oven is not None else -1) if in_oven else None
        lying = [mark for mark in named if self.works[mark].attend is not None]
        if lying:
            state.lies, state.lies_work = lying[-1], self.works[lying[-1]]
        elif lifted or vessels or attend is Attend.HANDS:
            state.lies = state.lies_work = None
        pan = state.pan
        burns = self._burns(verb, reading, words, chunk, resting, attend) and (reading is not None or pan in named)
        if not burns or plating or in_oven or place is not None:
            pan = None
        over_water = reading is not None and _OVER_WATER.search(words) is not None
        number = len(self.actions)
        beside = chunk.meanwhile and bool(state.tail)
        after = self.actions[state.tail[-1]].after if beside else state.tail
        span = step.span if reading is None else reading.span
        hot = pan is not None or over_water or (in_oven and not off) or any(self.works[mark].heat for mark in named)
        self.actions.append(
            Action(
                number=number,
                strand=strand,
                step=step.number,
                span=span,
                pieces=pieces,
                reading=reading,
                beside=beside,
                verb=verb,
                subject=subject,
                attend=attend,
                marks=tuple(mark for mark in self._marks(pieces) if self.works[mark].kind in ("gear", "tool")),
                pan=pan,
                over_water=over_water,
                heat=heat,
                place=place,
                heats_gear=verb in verbs("hot"),
                hot=hot and not resting,
                standing=resting,
                plating=plating,
                after=after,
                waits=(),
                last=False,
                made=(),
            )
        )
        state.tail = (*state.tail, number) if beside else (number,)

    def _marks(self, pieces: tuple[Piece, ...]) -> tuple[int, ...]:
        """The pieces of gear a text names, each once, without what is used up."""
        named = (self.marks[p.gear] for p in pieces if isinstance(p, GearAt) and self.dish.gear[p.gear].amount is None)
        return tuple(dict.fromkeys(named))

    def _move(self, named: tuple[int, ...], vessels: list[int], verb: str, state: _State) -> None:
        """Which pan the food lies in after this: the last vessel named."""
        if vessels:
            state.pan = vessels[-1] if self.works[vessels[-1]].hob else None
        elif verb in ("drain", "strain") and any(self.works[mark].kind == "tool" for mark in named):
            state.pan = None

    def _burns(
        self, verb: str, reading: Reading | None, words: str, chunk: Chunk, resting: bool, attend: Attend
    ) -> bool:
        """Whether its pan is on a burner."""
        if resting or _OFF_HEAT.search(words) or self._on_ice(chunk):
            return False
        if reading is None:
            return verb in verbs("stove")
        return not (attend is Attend.HANDS and verb in verbs("board"))

    def _on_ice(self, chunk: Chunk) -> bool:
        used = (self.dish.gear[piece.gear] for piece in chunk.pieces if isinstance(piece, GearAt))
        return any(gear.amount is not None and gear.key.rpartition(" ")[2] == "ice" for gear in used)

    def _attention(self, chunk: Chunk, state: _State) -> Attend:
        """What a text with a duration asks for, as `_add` finds it."""
        assert chunk.reading is not None
        named, words = self._marks(chunk.pieces), prose(chunk.pieces)
        verb = governing(chunk).verb
        resting = verb in verbs("hands-free") or verb in verbs("standing")
        says_oven = any(mark in self.ovens for mark in named) or _OVEN.search(words) is not None
        moved = _LIFTED.search(words) is not None or any(self.works[mark].kind == "gear" for mark in named)
        return self._attend(named, says_oven, chunk.reading.attention, resting, moved, state)

    def _attend(
        self, named: tuple[int, ...], says_oven: bool, said: Attention, resting: bool, moved: bool, state: _State
    ) -> Attend:
        """Rule 28: the word in the reading; gear named that works alone; the gear its food lies in; a verb; otherwise hands."""
        if said is not Attention.UNSAID:
            return _ATTEND[said]
        by_gear = {self.works[mark].attend for mark in named} | ({Attend.REACH} if says_oven else set())
        for attend in (Attend.REACH, Attend.ALONE):
            if attend in by_gear:
                return attend
        lies = state.lies_work
        if lies is not None and lies.attend is not None and not moved and not (resting and lies.heat):
            return lies.attend
        return Attend.ALONE if resting else Attend.HANDS

    # ------------------------------------------------------------ ovens

    def _set_dial(self, pieces: tuple[Piece, ...], state: _State) -> None:
        for reading in temperatures(pieces):
            dial = self._dial(reading)
            if dial is not None:
                state.dial = (*dial, reading.span)

    def _dial(self, reading: Reading) -> tuple[int, int] | None:
        value = reading.value
        assert isinstance(value, Temperature)
        ends = [OvenSetting(end, Scale(value.scale), value.fan).dial() for end in (value.low, value.high)]
        known = [end for end in ends if end is not None]
        if len(known) < 2:
            return None
        spread = self.dish.tolerance
        return _tenths(min(known) - spread), _tenths(max(known) + spread)

    def _heat(self, mark: int | None, off: bool, chunk: Chunk, state: _State) -> Heat:
        at = chunk.reading.span if chunk.reading is not None else self.dish.span
        own = next((p.gear for p in chunk.pieces if isinstance(p, GearAt) and self.marks[p.gear] == mark), None)
        shelves = max(state.shelves, 1 if own is None else _shelves(self.dish.gear[own].size))
        if own is not None:
            at = self.dish.gear[own].span
        assumed = _tenths(figure("unsaid oven"))
        low, high, written = (assumed, assumed, None) if state.dial is None else state.dial
        return Heat(mark, 0 if off else low, high, shelves, written, at)

    # ------------------------------------------------------------ waiting for other strands

    def waiting(self) -> tuple[Action, ...]:
        """Every action with those of other strands it waits for: from the action that mentions what they leave (rule 20)."""
        last = self.done_in
        for action in tuple(self.actions):
            for maker in self._made_elsewhere(action):
                self._wait(action.number, last[maker])
        for step in self.dish.steps():
            own = [action for action in self.actions if action.step == step.number]
            if not own:
                continue
            for other in step.waits:
                if other not in last:
                    continue
                by = next((a for a in own if self._mentions(a, other, self.actions[last[other]].strand)), own[0])
                self._wait(by.number, last[other])
        return tuple(self.actions)

    def _wait(self, number: int, before: int) -> None:
        action = self.actions[number]
        if before not in action.waits and before < number:
            self.actions[number] = replace(action, waits=(*action.waits, before))

    def _made_elsewhere(self, action: Action) -> Iterator[int]:
        """Steps of other strands that leave what this action names."""
        things = {thing.key: thing for thing in self.dish.things}
        for piece in action.pieces:
            use = self.dish.uses[piece.use] if isinstance(piece, FoodAt) else None
            thing = None if use is None or use.role not in (Role.TAKE, Role.HANDLE) else things.get(use.thing)
            if thing is None or thing.kind is not ThingKind.MADE or thing.strand == action.strand:
                continue
            if thing.step is not None and thing.step in self.done_in:
                yield thing.step

    def _mentions(self, action: Action, step: int, strand: int) -> bool:
        things = {thing.key: thing for thing in self.dish.things}
        for piece in action.pieces:
            if not isinstance(piece, FoodAt):
                continue
            use = self.dish.uses[piece.use]
            thing = things.get(use.thing)
            if thing is None or use.role not in (Role.TAKE, Role.HANDLE) or thing.strand == action.strand:
                continue
            if thing.step == step or (thing.kind is not ThingKind.MADE and thing.strand == strand):
                return True
        return False


def _shelves(size: str) -> int:
    found = re.search(r"(\d+)\s+shel", size)
    return max(1, int(found.group(1))) if found else 1


def _by_the_plate(reading: Reading) -> bool:
    value = reading.value
    return isinstance(value, Duration) and value.pace is not None and value.pace.per == "plate"


def _tenths(degrees: Fraction) -> int:
    return int(degrees * 10)
