"""A day of the simulated smith: he reads the screen and the bottom line, and presses keys.

He takes what the advice names first, does what its card says, and looks when he is told to.
"""

from __future__ import annotations

from collections.abc import Callable

from forgelog.desk.simulate.floor import SimulatedFloor
from forgelog.desk.simulate.hands import Hands
from forgelog.desk.simulate.slips import piece_that_waits, slip_due
from forgelog.desk.simulate.smith import Slip, Smith
from forgelog.floor.advice import Advice, advise, next_step, rest_left_s
from forgelog.floor.blocks import waits_for_temper
from forgelog.floor.names import short_name
from forgelog.floor.planning.advised import ASIDE_WORDS, JIG_WORDS
from forgelog.floor.planning.piece_steps import jig_of
from forgelog.floor.sums import look_s
from forgelog.floor.view import View
from forgelog.work.queries import in_fire, in_hand, resting, step_of
from forgelog.work.state import BENCH, FIRE, RESTING, State, Workpiece

MOST_KEYS = 3000
"""A day with more is a fault of the simulation."""
JIG_S = (60.0, 120.0)
"""A jig is set up in so long."""
UNPRESSED_S = 420.0
"""In hand for so long, a piece has been in the fire without a key."""


class Day:
    """One session, worked to its goal."""

    def __init__(
        self,
        floor: SimulatedFloor,
        smith: Smith,
        slips: tuple[Slip, ...],
        enough: Callable[[State], bool],
        *,
        lies: str = "box 1",
        most_min: float = 600.0,
    ) -> None:
        """Plan it.

        Args:
            floor: The session.
            smith: Who works.
            slips: What goes wrong.
            enough: Whether the day's work is done.
            lies: Where things lie overnight.
            most_min: After so many minutes he goes home.
        """
        self.floor = floor
        self.smith = smith
        self.rng = smith.rng
        self.hands = Hands(floor, smith.rng)
        self.slips = list(slips)
        self.enough = enough
        self.lies = lies
        self.most_min = most_min
        self.began_s = floor.watch.wall_s
        self.cut_off = False
        """True where the power went."""
        self.jig: str | None = None
        """What is set up at the anvil."""
        self.bench_s: dict[tuple[str, str], float] = {}
        """How long each piece takes at the bench, once it was begun."""

    @property
    def minutes(self) -> float:
        """Of the session up to now."""
        return (self.floor.watch.wall_s - self.began_s) / 60

    def work(self) -> None:
        """Work until the day is over."""
        for _ in range(MOST_KEYS):
            view = self.floor.view()
            if view.leave or self.cut_off:
                return
            self.one(view)
        raise AssertionError(f"no end of the day after {MOST_KEYS} keys")

    def one(self, view: View) -> None:
        """The next thing."""
        if view.list is not None:
            power = view.list.title.startswith("the power was off")
            self.hands.key("enter" if power else "space")
        elif view.question:
            self.hands.key(self.hands.key_that(view, "leave it as it is"))
        elif view.finished:
            self.hands.key("enter", 60)
        elif (held := in_hand(self.floor.state)) is not None:
            self.in_hand(view, held)
        elif self.slip_of_the_hour():
            return
        else:
            self.choose()

    # In hand

    def in_hand(self, view: View, held: Workpiece) -> None:
        """Work the piece in hand: heat over, or step done."""
        state = self.floor.state
        step = step_of(state, held)
        if step is None or view.verb.startswith("QUENCH"):
            self.hands.key("enter", self.rng.uniform(9, 14))
            return
        if step.kind == "gauge":
            self.hands.key("enter", self.rng.uniform(6, 14))
            return
        if (slip := self.slip("unpressed", held)) is not None:
            self.slips.remove(slip)
            self.hands.key("enter", UNPRESSED_S + self.rng.uniform(0, 120))
            return
        if (slip := self.slip("burnt", held)) is not None:
            self.slips.remove(slip)
            self.hands.key("tab", 6)
            self.hands.find("cut off the burnt end")
            return
        if (slip := self.slip("scrap", held)) is not None and not view.list:
            self.slips.remove(slip)
            self.hands.key("tab", 15)
            if self.hands.find("scrap it, make another"):
                self.hands.find(slip.words)
            return
        left_s = 0.0
        if view.heat_left.startswith("about "):
            left_s = float(view.heat_left.split()[1])
        work_s = self.smith.heat_s(left_s) / max(1, held.lot)
        done = held.heats + 1 >= self.smith.heats(state, held, step)
        slip = self.slip("undo", held)
        self.hands.key("enter" if done or held.lot else "space", work_s)
        if slip is not None and done:
            self.slips.remove(slip)
            self.hands.key("backspace", 4)

    # Nothing in hand

    def choose(self) -> None:
        """Take the first thing of the advice, or wait for what comes next."""
        state, now = self.floor.state, self.floor.now
        for piece in resting(state):
            slip = self.slip("short", piece)
            if slip is not None:
                self.slips.remove(slip)
                self.smith.hurries(piece, float(slip.words))
        if self.hurries(state):
            return
        closing = self.minutes > self.most_min or self.enough(state)
        found = [a for a in advise(state, now, self.floor.settings) if self.wanted(state, a)]
        if closing:
            hard = bool(waits_for_temper(state))
            found = [a for a in found if state.pieces[a.piece].place in (FIRE, BENCH) or hard]
            late = self.minutes > self.most_min + 45
            if not hard and (late or not (found or in_fire(state))):
                self.go_home()
                return
        if found:
            self.take(found[0])
        elif (due_s := self.next_due(state)) is not None:
            self.wait(due_s)
        elif not state.fire.lit:
            self.hands.from_list("the fire is lit again")
        else:
            raise AssertionError(f"nothing can be done: {self.floor.view()}")

    def wanted(self, state: State, advice: Advice) -> bool:
        """Not what is not hot yet, unless it is to be laid aside."""
        piece = state.pieces[advice.piece]
        if next_step(state, piece) is None:
            return False
        if piece.place == FIRE and advice.why != ASIDE_WORDS:
            return self.look_left_s(piece) <= 0
        return piece.rest is None or self.rest_left_s(piece) <= 0

    def look_left_s(self, piece: Workpiece) -> float:
        """Seconds until a piece in the fire is to be looked at."""
        waits_s = self.floor.now.rest_s - piece.since_s
        return look_s(self.floor.state, piece, self.floor.settings) - waits_s

    def take(self, advice: Advice) -> None:
        """Go to its card and do what it offers."""
        if not self.hands.go_to(advice.piece):
            raise AssertionError(f"there is no card for {advice.piece}")
        state = self.floor.state
        piece = state.pieces[self.floor.stand.chosen]
        view = self.floor.view()
        words = {k.key: k.words for k in view.keys if k.live}
        self.set_up(piece, JIG_WORDS in advice.why or piece.place == FIRE)
        if piece.place == FIRE:
            self.hands.key("space", self.rng.uniform(2, 20))
            if advice.why == ASIDE_WORDS and in_hand(self.floor.state) is not None:
                self.hands.key("tab")
                self.hands.find("lay it aside")
        elif piece.place == BENCH:
            self.at_the_bench(piece)
        elif words.get("ENTER") == "it fits":
            self.gauge(piece)
        elif words.get("SPACE") == "put it in the fire":
            self.hands.key("space", self.rng.uniform(2, 9))
        elif words.get("ENTER") == "let it rest" or words.get("ENTER", "").startswith("begin"):
            self.hands.key("enter", self.rng.uniform(3, 30))
        else:
            raise AssertionError(f"{piece.id} offers {words}")

    def set_up(self, piece: Workpiece, now: bool) -> None:
        """Set up the jig of its next step, if it wants one that does not stand."""
        step = next_step(self.floor.state, piece)
        jig = jig_of(step) if step is not None else None
        if now and jig is not None and jig != self.jig:
            self.jig = jig
            self.floor.watch.go_on(self.rng.uniform(*JIG_S))

    def at_the_bench(self, piece: Workpiece) -> None:
        """Work cold until it is done, or until something in the fire is to be looked at."""
        if not piece.running:
            self.hands.key("space", 5)
            return
        state = self.floor.state
        step = step_of(state, piece)
        assert step is not None
        key = piece.id, step.id
        if key not in self.bench_s:
            self.bench_s[key] = self.smith.bench_s(state, piece, step)
        left_s = max(5.0, self.bench_s[key] - self.worked_s(piece))
        looks = [self.look_left_s(p) for p in in_fire(state)]
        if looks and min(looks) < left_s:
            self.hands.key("space", max(3.0, min(looks)) + self.rng.uniform(0, 4))
        else:
            self.hands.key("enter", left_s)

    def worked_s(self, piece: Workpiece) -> float:
        """How long it has been worked at the bench."""
        running_s = self.floor.now.work_s - piece.bench_work_s if piece.running else 0.0
        return piece.work_s + running_s

    def gauge(self, piece: Workpiece) -> None:
        """Gauge it; sometimes a size is read off and written down."""
        if (slip := self.slip("misfit", piece)) is not None:
            self.slips.remove(slip)
            self.hands.key("space", 25)
            return
        step = next_step(self.floor.state, piece)
        assert step is not None
        name = short_name(self.floor.state, piece, exact=True)
        gauges = [g.what for g in step.gauges]
        if gauges and piece.place != RESTING and self.rng.random() < 0.6:
            self.hands.key("g", 15)
            if self.hands.find(f"{name}: {gauges[0]}"):
                for _ in range(self.rng.choice((0, 0, 1, 1, 2))):
                    self.hands.key("tab", 0.5)
                self.hands.key("enter")
        if self.hands.go_to(piece.id):
            self.hands.key("enter", self.rng.uniform(15, 60))

    def hurries(self, state: State) -> bool:
        """Take up a piece whose rest he cuts short."""
        now = self.floor.now
        for piece in resting(state):
            rest = piece.rest
            assert rest is not None
            share = self.smith.patience(piece)
            if share >= 1 or rest_left_s(piece, now) <= 0 or next_step(state, piece) is None:
                continue
            if now.rest_s - rest.started_s < rest.needed_s * share:
                continue
            self.smith.hurries(piece, 1.0)
            if self.hands.go_to(piece.id) and self.floor.stand.chosen == piece.id:
                self.hands.key("space")
                if self.floor.view().question:
                    self.hands.key("enter", 2)
                return True
        return False

    def next_due(self, state: State) -> float | None:
        """Seconds until something in the fire is to be looked at, or a rest is over."""
        dues = [self.look_left_s(p) for p in in_fire(state)]
        rests = [self.rest_left_s(p) for p in resting(state) if next_step(state, p) is not None]
        dues += [left_s for left_s in rests if left_s > 0]
        return max(1.0, min(dues)) if dues else None

    def rest_left_s(self, piece: Workpiece) -> float:
        """Seconds until he takes this piece up from its rest."""
        rest = piece.rest
        assert rest is not None
        return rest.started_s + rest.needed_s * self.smith.patience(piece) - self.floor.now.rest_s

    def wait(self, seconds: float) -> None:
        """Wait; a long wait with nothing in the fire is a pause."""
        seconds += self.rng.uniform(0.5, 12)
        long = seconds > 900 and not in_fire(self.floor.state)
        if long:
            self.hands.key("p", 10)
        self.floor.watch.go_on(seconds)
        if long:
            self.hands.key("space", 5)

    # Slips

    def slip(self, what: str, piece: Workpiece) -> Slip | None:
        """A slip that is due with this piece at its step."""
        return slip_due(self.slips, self.floor.state, what, piece, self.minutes)

    def slip_of_the_hour(self) -> bool:
        """What happens at a time of day, or with a cold piece."""
        state = self.floor.state
        for slip in self.slips:
            if self.minutes < slip.after_min:
                continue
            if slip.what == "note" and slip is not self.slips[0]:
                continue  # it tells of what stands before it
            if slip.what == "note":
                self.hands.key("n", 8)
                self.hands.key(f"text:{slip.words}", 20)
            elif slip.what == "door":
                self.hands.key("p", 4)
                self.floor.watch.go_on(self.rng.uniform(600, 1500))
                self.hands.key("space", 3)
            elif slip.what == "cut" and in_fire(state):
                self.cut_off = True
            elif slip.what == "end" and in_fire(state):
                self.go_home()
            elif slip.what == "crack" and (piece := piece_that_waits(state, slip)) is not None:
                name = short_name(state, piece, exact=True)
                if not self.hands.from_list("trouble with a cold piece", name, "cracked"):
                    raise AssertionError("it cannot be said that it is cracked")
                name = short_name(self.floor.state, piece, exact=True)
                self.hands.from_list(
                    "trouble with a cold piece", name, "scrap it, make another", slip.words
                )
            else:
                continue
            self.slips.remove(slip)
            return True
        return False

    def go_home(self) -> None:
        """The end of the day."""
        self.hands.from_list("end of the day", self.lies)
