"""From a book and an event to a scheduling problem: what must be done, with what, after what, and by when."""

from __future__ import annotations

from dataclasses import dataclass, field

from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.measure.language import language_of
from recipec.measure.show import Style
from recipec.model.book import Book
from recipec.model.dish import Dish, FoodAt, Made, Role
from recipec.model.event import Event
from recipec.model.reading import Hold
from recipec.plan.action_types import Action
from recipec.plan.calendar import Calendar, calendar_of
from recipec.plan.demand import Demand, Draw, Run, demand, orders_of
from recipec.plan.draft import Draft
from recipec.plan.kitchen_stock import Stock
from recipec.plan.links import Links
from recipec.plan.run_tasks import DishTasks, Table
from recipec.plan.space import boxed
from recipec.plan.storing import Goods, Stores, goods_of, longest
from recipec.plan.straight import too_late
from recipec.plan.timeline_types import Attend, Due, Problem, RunOf, Task, Trouble, Unplanned, Why, Work
from recipec.plan.waiting import Wait, limit_of, used_of, wait_after, wait_made
from recipec.plan.wording import Desk, hold_text, makes_text, plates_text
from recipec.plan.work_figures import seconds, verbs


def problem_of(book: Book, larder: Larder, event_key: str, style: Style) -> Problem | Unplanned:
    """All work of an event. Raises KeyError when the book has no such event: the caller's mistake."""
    event = book.event(event_key)
    if event is None:
        raise KeyError(event_key)
    kitchen = book.kitchen(event.kitchen)
    tongue = language_of(style.language)
    calendar = calendar_of(event, kitchen, tongue)
    if calendar is None:
        unsaid = tongue.say("It does not say when anything is served: add a line `serve: 2026-10-17 19:30`.")
        return Unplanned(event.key, (unsaid,))
    wanted = demand(book, larder, orders_of(event))
    if not wanted.runs:
        return Unplanned(event.key, (tongue.say("It has no dish yet that is in the book."),))
    straight: frozenset[tuple[str, str, int]] = frozenset()
    while True:
        maker = _Maker(book, larder, event, style, calendar, wanted, Draft(Stock(kitchen), tongue), straight)
        problem = maker.problem()
        late = too_late(problem, maker.stores.detours)
        if late is None:
            return problem
        # Cooled and heated again it would be too late: it goes on hot.
        straight |= {late}


@dataclass(slots=True)
class _Maker:
    book: Book
    larder: Larder
    event: Event
    style: Style
    calendar: Calendar
    demand: Demand
    draft: Draft
    straight: frozenset[tuple[str, str, int]]
    links: Links = field(init=False)
    stores: Stores = field(init=False)
    dishes: dict[str, DishTasks] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.links = Links(self.book)
        self.stores = Stores(self.draft, self.straight)

    def problem(self) -> Problem:
        """Dishes in the order in which they can be made; what joins them; the courses; gear; clearing down."""
        runs = self.demand.runs
        table = Table(self.draft, self.larder, self.style, self.links)
        if self.draft.stock.kitchen is None:
            self.draft.assume(
                self.draft.tongue.say(
                    "No kitchen is named: one oven, four burners and a fridge are taken, all else is brought."
                )
            )
        for text in self.calendar.assumed:
            self.draft.assume(text)
        for key in dict.fromkeys(run.dish.key for run in runs):
            own = tuple((number, run) for number, run in enumerate(runs) if run.dish.key == key)
            self.dishes[key] = DishTasks(table, own[0][1].dish, own)
        for made in self.dishes.values():
            self._across_strands(made)
        for number, run in enumerate(runs):
            for draw in run.draws:
                self._across_dishes(number, run, draw)
        courses = self._courses_of_runs()
        for number, run in enumerate(runs):
            self._serve(number, run, courses[number])
        kit = self._kit(courses)
        self.draft.finish_gear()
        self._reserve()
        self._clear()
        calendar = self.calendar
        return Problem(
            event=self.event.key,
            title=self.event.title,
            origin=calendar.origin,
            horizon=calendar.horizon,
            day=calendar.day,
            arrive=calendar.arrive,
            aim=self.event.aim or "calm",
            runs=tuple(self._run_of(number, run, courses[number]) for number, run in enumerate(runs)),
            pools=tuple(self.draft.pools),
            tasks=tuple(self.draft.tasks),
            links=tuple(self.draft.links),
            keeps=tuple(self.draft.keeps),
            dues=tuple(self.draft.dues),
            courses=calendar.courses,
            hands=calendar.hands,
            assumed=tuple(self.draft.assumed),
            troubles=tuple(self.draft.troubles),
            kit=kit,
        )

    def _run_of(self, number: int, run: Run, course: int | None) -> RunOf:
        desk = Desk(run.scaled(), self.larder, self.style)
        if run.plates is not None and run.dish.makes is None:
            plates = plates_text(run.plates, run.plates, self.style)
        else:
            plates = "" if run.dish.makes is None else makes_text(desk, run.dish.makes)
        return RunOf(run.dish.key, run.dish.title, run.without, plates, course)

    # ------------------------------------------------------------ what waits for what

    def _across_strands(self, made: DishTasks) -> None:
        dish = made.dish
        for action in made.work.actions:
            for number in action.waits:
                before = made.work.actions[number]
                for party in made.parties(action.number):
                    for maker in made.parties(number):
                        if set(party) & set(maker):
                            self._join(made, before, action, party, maker, dish)

    def _join(
        self,
        made: DishTasks,
        before: Action,
        action: Action,
        party: tuple[int, ...],
        maker: tuple[int, ...],
        dish: Dish,
    ) -> None:
        run = next(one for one in party if one in maker)
        users = made.tasks(action.number, run)
        left = used_of(before, action, dish)
        if not left:
            self.stores.use(self._unnamed(made, before, run), users, party[0])
            return
        for one in left:
            self.stores.use(self._goods(made, before, one, maker), users, party[0])

    def _unnamed(self, made: DishTasks, before: Action, run: int) -> Goods:
        name = made.dish.title
        key = (made.dish.key, f"step {before.step}", run)
        strand = made.dish.strands[before.strand].heading
        cold = before.place is not None
        makers = made.tasks(before.number, run)
        return Goods(key, name, makers, run, strand, None, wait_after(before), cold, 0, before.span)

    def _goods(self, made: DishTasks, before: Action, one: Made, maker: tuple[int, ...]) -> Goods:
        makers = made.tasks(before.number, maker[0])
        room = boxed(made.desk(maker).scaled.made(one))
        strand = made.dish.strands[before.strand].heading
        cold = before.place is not None or before.verb in ("cool", "chill", "freeze")
        return goods_of(
            (made.dish.key, one.thing, maker[0]),
            one,
            makers,
            maker[0],
            strand,
            wait_made(before, one, self.draft.tongue),
            cold,
            room,
        )

    def _across_dishes(self, number: int, run: Run, draw: Draw) -> None:
        """What a dish takes of another waits for that one, with its hold."""
        below = next(
            (
                place
                for place, other in enumerate(self.demand.runs)
                if other.dish.key == draw.dish and other.without == draw.without
            ),
            None,
        )
        if below is None:
            return
        user = self._drawing(run, draw, number)
        if user is None:
            return
        users = self.dishes[run.dish.key].tasks(user.number, number)
        source = self.dishes[draw.dish]
        for goods in self._finished(source, below):
            self.stores.use(goods, users, number)

    def _drawing(self, run: Run, draw: Draw, number: int) -> Action | None:
        """The action that takes it: that which has the mark, else one that names the same thing, else the first of all."""
        made = self.dishes[run.dish.key]
        own = [action for action in made.work.actions if made.tasks(action.number, number)]
        dish = made.dish
        uses = [(action, dish.uses[p.use]) for action in own for p in action.pieces if isinstance(p, FoodAt)]
        by_mark = (action for action, use in uses if use.number == draw.use.number and use.role is Role.OUR)
        by_thing = (action for action, use in uses if use.thing == draw.use.thing)
        return next(by_mark, None) or next(by_thing, None) or next(iter(own), None)

    # ------------------------------------------------------------ free-from plates

    def _kit(self, courses: tuple[int | None, ...]) -> tuple[Trouble, ...]:
        """Clean kit for whoever needs it. Reckoned only where somebody does."""
        runs = self.demand.runs
        if not self.event.seats and not any(run.without for run in runs):
            return ()
        from recipec.plan.clean_kit import Booking
        from recipec.plan.kit_order import keep_apart

        guarded = Booking(self.book, self.larder, self.event, runs, courses, self._run_for)
        return keep_apart(guarded, self.draft, self.dishes)

    # ------------------------------------------------------------ finished dishes

    def _ends(self, made: DishTasks, run: int) -> tuple[Action | None, tuple[Action, ...]]:
        """The action that finishes a dish, and others that nothing follows."""
        own = [action for action in made.work.actions if made.tasks(action.number, run)]
        followed = {before for action in own for before in (*action.after, *action.waits)}
        loose = [action for action in own if action.number not in followed]
        if not own:
            return None, ()
        last = own[-1]
        return last, tuple(action for action in loose if action is not last)

    def _finished(self, made: DishTasks, run: int) -> list[Goods]:
        """A finished dish as other dishes take it: with the hold of its last arrow, else as it keeps."""
        last, others = self._ends(made, run)
        if last is None:
            return []
        party = next(party for party in made.parties(last.number) if run in party)
        kept = [one for one in last.made if not one.discarded]
        goods = self._whole(made, last, party) if not kept else self._goods(made, last, kept[0], party)
        if goods.hold is None and made.dish.keeps:
            goods = self._whole(made, last, party)
        return [goods, *(self._unnamed(made, other, run) for other in others)]

    def _whole(self, made: DishTasks, last: Action, party: tuple[int, ...]) -> Goods:
        """A dish that no arrow names."""
        run = party[0]
        hold = longest(made.dish.keeps, self.calendar.horizon)
        words = "" if hold is None else self._keeps(made, hold)
        wait = wait_after(last) if hold is None else Wait(limit_of(hold), Why.HOLD, words, made.dish.title_span)
        cold = last.place is not None or last.verb in ("cool", "chill", "freeze")
        room = boxed(made.desk(party).scaled.makes())
        makers = made.tasks(last.number, run)
        strand = made.dish.strands[last.strand].heading
        return Goods(
            (made.dish.key, "", run), made.dish.title, makers, run, strand, hold, wait, cold, room, made.dish.title_span
        )

    # ------------------------------------------------------------ courses

    def _courses_of_runs(self) -> tuple[int | None, ...]:
        """For every run the first course it is served in."""
        found: list[int | None] = [None] * len(self.demand.runs)
        for place, course in enumerate(self.event.courses):
            at = self.calendar.course_of[place]
            for order in course.orders:
                number = None if order.dish is None else self._run_for(order.dish, order.without)
                if number is not None and at is not None:
                    known = found[number]
                    found[number] = at if known is None else min(at, known)
        return tuple(found)

    def _run_for(self, dish: str, without: tuple[str, ...]) -> int | None:
        """The run that an order is made by: the version that leaves out most of what the order does."""
        names = {normal_name(food).rpartition(" ")[2] for food in without}
        best: tuple[int, int] | None = None
        for number, run in enumerate(self.demand.runs):
            if run.dish.key != dish or not run.served:
                continue
            left_out = {normal_name(food).rpartition(" ")[2] for food in run.without}
            if left_out <= names and (best is None or len(left_out) > best[0]):
                best = (len(left_out), number)
        if best is None:
            return next((n for n, run in enumerate(self.demand.runs) if run.dish.key == dish and run.served), None)
        return best[1]

    def _serve(self, number: int, run: Run, course: int | None) -> None:
        if course is None:
            return
        made = self.dishes[run.dish.key]
        last, others = self._ends(made, number)
        if last is None:
            return
        at = self.calendar.courses[course].at
        for other in others:
            for task in made.tasks(other.number, number):
                self._due(Due(task, course, at, None))
        party = next(party for party in made.parties(last.number) if number in party)
        plate = self._plating(made, last, number, run, party)
        if plate is not None:
            self._due(Due(plate, course, at, seconds("stand plated")))
            self.stores.until_plated(self._unnamed(made, last, party[0]), plate)
            return
        tasks, stand, words = self._standing(made, last, party, course)
        for place, task in enumerate(tasks):
            # Those before the last batch stand for as long as the others take, unless a hold is written.
            later = 0 if words else sum(self.draft.tasks[other].seconds for other in tasks[place + 1 :])
            self._due(Due(task, course, at, None if stand is None else stand + later, words, made.dish.title_span))

    def _due(self, due: Due) -> None:
        if all((known.task, known.course) != (due.task, due.course) for known in self.draft.dues):
            self.draft.dues.append(due)

    def _standing(
        self, made: DishTasks, last: Action, party: tuple[int, ...], course: int
    ) -> tuple[tuple[int, ...], int | None, str]:
        """The tasks that make it ready, and how long it may stand."""
        tasks = made.tasks(last.number, party[0])
        kept = [one for one in last.made if not one.discarded]
        keeps = longest(made.dish.keeps, self.calendar.horizon)
        if last.plating:
            return tasks, seconds("stand plated"), ""
        if kept and (kept[0].hold is not None or keeps is None):
            goods = self._goods(made, last, kept[0], party)
            ready, stand = self.stores.finish(goods, course)
            if goods.hold is None:
                return tasks, seconds("stand hot" if last.hot else "stand made"), ""
            return ready, stand, goods.wait.words
        if keeps is not None:
            self.stores.until_served(self._whole(made, last, party), course)
            return tasks, limit_of(keeps), self._keeps(made, keeps)
        self.stores.until_served(self._unnamed(made, last, party[0]), course)
        return tasks, seconds("stand plated"), ""

    def _plating(self, made: DishTasks, last: Action, number: int, run: Run, party: tuple[int, ...]) -> int | None:
        """Plating that the text speaks of and gives no time for, where nothing else of it takes hands at the end."""
        if last.attend is Attend.HANDS or last.made or run.served_plates is None or made.dish.serves is None:
            return None
        words = {
            word.strip(".,;:").lower() for word in self.draft.tasks[made.tasks(last.number, number)[0]].text.split()
        }
        if not words & verbs("plating"):
            return None
        long = int(run.served_plates * seconds("plating a plate"))
        task = self.draft.add(
            Task(
                run=number,
                work=Work.PLATE,
                attend=Attend.HANDS,
                seconds=max(1, long),
                text=self.draft.tongue.say(
                    "Plate %(dish)s: %(plates)s.",
                    dish=made.dish.title,
                    plates=plates_text(run.served_plates, run.served_plates, self.style),
                ),
                what=self.draft.tongue.say("plate it"),
                span=last.span,
                step=last.step,
                strand=made.dish.strands[last.strand].heading,
                verb="plate",
                assumed=True,
            )
        )
        made.follow(made.tasks(last.number, number), (task,), Wait(seconds("stand hot"), Why.ORDER))
        return task

    def _keeps(self, made: DishTasks, hold: Hold) -> str:
        tongue = self.draft.tongue
        return tongue.say("%(dish)s, keeps %(hold)s", dish=made.dish.title, hold=hold_text(hold, tongue))

    # ------------------------------------------------------------ time kept free, clearing down

    def _reserve(self) -> None:
        long = int(self.event.reserve_s)
        if long <= 0 or not self.calendar.courses:
            return
        first = self.calendar.courses[0].at
        self.draft.add(
            Task(
                run=None,
                work=Work.RESERVE,
                attend=Attend.HANDS,
                seconds=long,
                text=self.draft.tongue.say("Kept free, for what goes wrong."),
                what=self.draft.tongue.say("kept free"),
                span=self.event.span,
                earliest=first - 3600 - long,
                latest=first,
            )
        )

    def _clear(self) -> None:
        last = max(course.ends for course in self.calendar.courses)
        long = seconds("clear") + self.event.guests * seconds("clear a guest")
        there = sum(max(0, hands.end - max(hands.start, last)) for hands in self.calendar.hands)
        if there < long:
            self.draft.assume(self.draft.tongue.say("There is no time left after the last course to clear down."))
            return
        self.draft.add(
            Task(
                run=None,
                work=Work.CLEAR,
                attend=Attend.HANDS,
                seconds=long,
                text=self.draft.tongue.say("Clear down: wipe, sweep, pack, bins."),
                what=self.draft.tongue.say("clear down"),
                span=self.event.span,
                earliest=last,
                latest=self.calendar.horizon,
                assumed=True,
            )
        )
