"""A small shop for tests: a recipe of our own invention, and sessions pressed key by key."""

from __future__ import annotations

from forgelog.recipe.resolved import Component, Recipe, RestGoal, Step
from forgelog.work.apply import apply
from forgelog.work.facts import (
    AnyFact,
    FireLit,
    HeatOver,
    NewPiece,
    OrderTaken,
    Press,
    PutInFire,
    RecipePinned,
    RestStarted,
    SessionBegan,
    StepFinished,
    TakenOut,
    Undone,
)
from forgelog.work.moments import Stamp
from forgelog.work.state import State

MORNING_S = 1_760_000_400.0
"""An autumn morning, seconds since 1970."""

_BLACK = RestGoal(until="black", degc=480.0, why="so that the eye is not worked on too cold")

STRAP = Component(
    id="strap",
    name="strap",
    each=2,
    marks=("left", "right"),
    mirrored=True,
    steps=(
        Step(
            id="draw",
            kind="forge",
            do="draw the tail",
            done="the tail is drawn",
            heats={"hand": 3, "power": 1},
        ),
        Step(id="black", kind="rest", do="rest", done="rested", rest=_BLACK),
        Step(
            id="eye", kind="forge", do="roll the eye", done="the eye is rolled", heats={"hand": 2}
        ),
        Step(
            id="drill",
            kind="bench",
            do="drill the holes",
            done="the holes are drilled",
            minutes_s=600.0,
        ),
    ),
)
HEAD = Component(
    id="head",
    name="hammer head",
    steps=(
        Step(
            id="drift",
            kind="forge",
            do="drift the eye",
            done="the eye is drifted",
            heats={"hand": 4},
        ),
        Step(
            id="normalise-1",
            kind="normalise",
            do="normalise, first",
            done="first cycle done",
            rest=RestGoal(until="black", degc=480.0, skipping="matters"),
        ),
        Step(
            id="normalise-2",
            kind="normalise",
            do="normalise, second",
            done="second cycle done",
            rest=RestGoal(until="black", degc=480.0, skipping="matters"),
        ),
        Step(
            id="grind",
            kind="bench",
            do="grind the face",
            done="the face is ground",
            minutes_s=900.0,
        ),
        Step(id="cool", kind="rest", do="rest", done="rested", rest=_BLACK),
    ),
)
RECIPE = Recipe(
    id="test-piece",
    name="Test piece",
    process_hash="0" * 8,
    components=(STRAP, HEAD),
)

LEFT, RIGHT, HAMMER = "o1/strap/1", "o1/strap/2", "o1/head/3"

MADE = (
    NewPiece(id=LEFT, component="strap", serial=1, mark="left", slot="strap left 1"),
    NewPiece(id=RIGHT, component="strap", serial=2, mark="right", slot="strap right 1"),
    NewPiece(id=HAMMER, component="head", serial=3, slot="hammer head 1"),
)


class Shop:
    """A journal that grows: `press` moves the clock on and applies one press."""

    def __init__(self) -> None:
        self.state = State()
        self.states: list[State] = []
        """What stood after each press of the running session."""
        self.presses: dict[str, list[Press]] = {}
        """Every press so far, by session."""
        self.now_s = MORNING_S
        self._seq = 0

    def begin(self, session: str, *facts: AnyFact, after_s: float = 0.0, **header: object) -> None:
        """Begin a session; `header` holds further fields of its first fact."""
        self.now_s += after_s
        self.states = []
        self.presses[session] = []
        self._session = session
        self._seq = 0
        self._apply(
            SessionBegan(session=session, version="1", device="anvil", **header),  # type: ignore[arg-type]
            *facts,
        )

    def open_order(self, session: str = "s1", **header: object) -> None:
        """Begin the first session with the order taken, its pieces made and the fire lit."""
        self.begin(session, **header)
        self.press(
            0.0, OrderTaken(order="o1", label="7", title="orchard gate", recipe="test-piece")
        )
        self.press(0.0, RecipePinned(order="o1", recipe=RECIPE, made=MADE))
        self.press(0.0, FireLit(orders=("o1",)))

    def press(self, after_s: float, *facts: AnyFact) -> None:
        """Let some time pass, then press a key."""
        self.now_s += after_s
        self._apply(*facts)

    def undo(self, after_s: float = 1.0) -> None:
        """Take back the last press."""
        self.press(after_s, Undone(press=self.state.made_by[1], session=self.state.made_by[0]))

    def forge(
        self, piece: str, step: str, heats: int, *, method: str = "hand", to: str = "aside"
    ) -> None:
        """Make a step in so many heats of 30 s, each with 120 s in the fire before it."""
        if self.state.pieces[piece].place != "fire":
            self.press(5.0, PutInFire(workpiece=piece))
        for heat in range(1, heats + 1):
            self.press(120.0, TakenOut(workpiece=piece))
            if heat < heats:
                self.press(30.0, HeatOver(workpiece=piece))
        self.press(30.0, StepFinished(workpiece=piece, step=step, method=method, to=to))

    def rest(self, piece: str, step: str, *, needed_s: float = 200.0, **details: object) -> None:
        """Lay a piece to rest."""
        self.press(
            1.0,
            RestStarted(
                workpiece=piece,
                step=step,
                until="black",
                degc=480.0,
                start_degc=850.0,
                needed_s=needed_s,
                **details,  # type: ignore[arg-type]
            ),
        )

    def _apply(self, *facts: AnyFact) -> None:
        press = Press(
            seq=self._seq,
            at=Stamp(wall=self.now_s, steady=self.now_s, awake=self.now_s, boot="b"),
            facts=facts,
        )
        self.state = apply(self.state, press)
        self.states.append(self.state)
        self.presses[self._session].append(press)
        self._seq += 1
