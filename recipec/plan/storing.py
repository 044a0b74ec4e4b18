"""What is made and used later: cooled, held, brought back; between strands, between dishes, and until the course."""

from __future__ import annotations

from dataclasses import dataclass, field

from recipec.base.span import Span
from recipec.measure.show import show_duration
from recipec.model.dish import Made
from recipec.model.reading import Hold, State
from recipec.plan.draft import Draft, Taken
from recipec.plan.task_words import chart_words
from recipec.plan.timeline_types import Attend, GearNeed, Link, OvenNeed, Task, Why, Work
from recipec.plan.unloading import with_unloading
from recipec.plan.waiting import Wait, limit_of
from recipec.plan.wording import hold_text
from recipec.plan.work_figures import figure, seconds


@dataclass(frozen=True, slots=True)
class Goods:
    """Something made: by tasks `makers` of run `run`. `cold` when it leaves the fridge or freezer already. `room` in ml, 0 unknown."""

    key: tuple[str, str, int]
    name: str
    makers: tuple[int, ...]
    run: int
    strand: str
    hold: Hold | None
    wait: Wait
    cold: bool
    room: int
    span: Span


@dataclass(slots=True)
class Stores:
    """Each thing is cooled once and brought back once, for the first that uses it; the others take it cold. What is in `straight` is
    used while it is still hot. `detours` are things that are cooled and brought back, each with the task that cools it."""

    draft: Draft
    straight: frozenset[tuple[str, str, int]] = frozenset()
    detours: dict[tuple[str, str, int], int] = field(default_factory=dict)
    _cooled: dict[tuple[str, str, int], tuple[int, ...]] = field(default_factory=dict)
    _back: set[tuple[str, str, int]] = field(default_factory=set)

    def use(self, goods: Goods, users: tuple[int, ...], to_run: int) -> None:
        """`users` start with it; of several the first sets the limit."""
        hold = goods.hold
        if hold is None:
            self.draft.follow(goods.makers, users, goods.wait)
            self._chilled(goods, goods.makers[-1], users[0])
            return
        if goods.key in self.straight:
            words = self.draft.tongue.say("%(thing)s, used while it is hot", thing=goods.name)
            wait = Wait(seconds("straight"), Why.HOLD, words, goods.span)
            self.draft.follow(goods.makers, users, wait)
            return
        makers = self._cool(goods, hold)
        back = self._bring_back(goods, hold, makers)
        if back is None:
            self.draft.follow(makers, users, goods.wait)
            self._keep(goods, hold, makers[-1], users[0])
            return
        self.draft.follow((back,), users, Wait(seconds("stand hot"), Why.MADE))

    def finish(self, goods: Goods, course: int) -> tuple[tuple[int, ...], int | None]:
        """For the course: the tasks that end when it is ready, and how long it may stand then; chilled, it takes its room until then."""
        hold = goods.hold
        if hold is None:
            self._chilled(goods, goods.makers[-1], None, course)
            return goods.makers, goods.wait.gap_max
        if goods.key in self.straight:
            return goods.makers, seconds("stand hot")
        makers = self._cool(goods, hold)
        back = self._bring_back(goods, hold, makers)
        if back is not None:
            return (back,), seconds("stand hot")
        self.draft.held_hot(hold, makers[-1], makers[-1], goods.name, course)
        self._chilled(goods, makers[-1], None, course)
        return makers, limit_of(hold)

    def until_served(self, goods: Goods, course: int) -> None:
        """What is chilled takes its room until its course is on the pass."""
        self._chilled(goods, goods.makers[-1], None, course)

    def until_plated(self, goods: Goods, plate: int) -> None:
        """What is chilled takes its room until its plating begins."""
        self._chilled(goods, goods.makers[-1], plate)

    # ------------------------------------------------------------ the parts

    def _cool(self, goods: Goods, hold: Hold) -> tuple[int, ...]:
        """What the hold begins with: the cooled thing, or the thing itself."""
        if hold.cooled_in is None or goods.cold:
            return goods.makers
        known = self._cooled.get(goods.key)
        if known is None:
            tongue = self.draft.tongue
            time = show_duration(hold.cooled_in, None, tongue)
            if hold.state is State.FROZEN:
                text = tongue.say(
                    "Cool the %(thing)s within %(time)s, then into the freezer with it.", thing=goods.name, time=time
                )
            else:
                text = tongue.say(
                    "Cool the %(thing)s within %(time)s, then into the fridge with it.", thing=goods.name, time=time
                )
            task = self.draft.add(
                Task(
                    run=goods.run,
                    work=Work.COOL,
                    attend=Attend.REACH,
                    seconds=int(hold.cooled_in),
                    text=text,
                    what=chart_words("cool", goods.name, tongue),
                    span=goods.span,
                    strand=goods.strand,
                    verb="cool",
                    thing=goods.name,
                )
            )
            for maker in goods.makers:
                self.draft.link(Link(maker, task, 0, seconds("stand hot"), Why.HOLD, span=goods.span))
            known = self._cooled[goods.key] = (task,)
        return known

    def _bring_back(self, goods: Goods, hold: Hold, makers: tuple[int, ...]) -> int | None:
        if hold.back_in is None or goods.key in self._back:
            return None
        self._back.add(goods.key)
        if makers != goods.makers:
            self.detours[goods.key] = makers[0]
        gear = hold.back_gear or ""
        oven, needs, taken = self._back_gear(gear)
        tongue = self.draft.tongue
        time = show_duration(hold.back_in, None, tongue)
        if gear:
            text = tongue.say(
                "Bring the %(thing)s back to heat in the %(gear)s: %(time)s, and once only.",
                thing=goods.name,
                gear=gear,
                time=time,
            )
        else:
            text = tongue.say("Bring the %(thing)s back to heat: %(time)s, and once only.", thing=goods.name, time=time)
        task = self.draft.add(
            Task(
                run=goods.run,
                work=Work.BACK,
                attend=Attend.REACH,
                seconds=int(hold.back_in),
                text=text,
                what=chart_words("reheat", goods.name, tongue),
                span=goods.span,
                strand=goods.strand,
                verb="reheat",
                thing=goods.name,
                gear=needs,
                oven=oven,
            )
        )
        if taken is not None:
            self.draft.taken.append(Taken(taken, 1, task, task, gear, goods.run))
        if oven is not None:
            self.draft.tasks[task] = with_unloading(self.draft.tasks[task])
        words = f"{goods.name}, {hold_text(hold, tongue)}"
        for maker in makers:
            bound = limit_of(hold) if maker == makers[-1] else None
            self.draft.link(Link(maker, task, 0, bound, Why.HOLD, words if bound is not None else "", goods.span))
        self._keep(goods, hold, makers[-1], task)
        return task

    def _back_gear(self, gear: str) -> tuple[OvenNeed | None, tuple[GearNeed, ...], int | None]:
        """The oven, a burner, and the pool of the pan, for heating something again."""
        if not gear:
            return None, (), None
        piece = self.draft.stock.find(gear)
        if piece.kind == "oven":
            pool = self.draft.kind_pool("oven") if piece.line is None else self.draft.pool(piece)
            low, high = (int(figure(f"back in the oven {end}") * 10) for end in ("from", "to"))
            return OvenNeed(pool, low, high, 1), (), None
        burner = (GearNeed(self.draft.kind_pool("hob"), 1),) if piece.work.hob else ()
        return None, burner, self.draft.pool(piece)

    def _keep(self, goods: Goods, hold: Hold, first: int, last: int) -> None:
        """The room or the gear it is held in meanwhile."""
        self.draft.held_hot(hold, first, last, goods.name)
        if hold.vessel:
            piece = self.draft.stock.find(hold.vessel)
            if piece.kind in ("gear", "tool"):
                pool = self.draft.pool(piece)
                self.draft.taken.append(
                    Taken(pool, 1, first, last, goods.name, goods.run, from_end=True, to_start=True, washed=False)
                )
        self._chilled(goods, first, last)

    def _chilled(self, goods: Goods, first: int, last: int | None, course: int | None = None) -> None:
        """Its room in the fridge or freezer from the end of `first`."""
        need = self.draft.room_of(goods.makers[-1], goods.hold, goods.room)
        if need is not None:
            self.draft.room(goods.key, need, first, first if last is None else last, goods.name, course)


def goods_of(
    key: tuple[str, str, int],
    made: Made,
    makers: tuple[int, ...],
    run: int,
    strand: str,
    wait: Wait,
    cold: bool,
    room: int,
) -> Goods:
    """What an arrow leaves."""
    return Goods(key, made.name, makers, run, strand, made.hold, wait, cold, room, made.span)


def longest(holds: tuple[Hold, ...], horizon: int) -> Hold | None:
    """Of several ways a dish keeps, the longest; but not frozen where another lasts to `horizon`, the end of the booking."""
    unfrozen = [hold for hold in holds if hold.state is not State.FROZEN]
    best = max(unfrozen, key=lambda hold: hold.low, default=None)
    if best is not None and best.low >= horizon:
        return best
    return max(holds, key=lambda hold: hold.low, default=None)
