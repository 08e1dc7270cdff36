"""The whole journal folded at once, as a measure for the index; and books made at random."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

from forgelog.book.index_fold import of_the_session
from forgelog.book.press_line import write_line
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.learn.row_making import make_rows, session_rows
from forgelog.learn.rows import Rows, SessionRow
from forgelog.learn.timeline import Timeline, draw_timeline
from forgelog.work.apply import now, settle
from forgelog.work.changes import replace
from forgelog.work.facts import (
    AnyFact,
    Assembled,
    BenchBegun,
    Cracked,
    DayEnded,
    EndCutOff,
    FireLit,
    FireStayed,
    FireWentOut,
    Gauged,
    HeatEndedEarlier,
    HeatOver,
    HeatsCorrected,
    LaidAside,
    MadeAgain,
    MethodChanged,
    NewPiece,
    OrderClosed,
    OrderTaken,
    Paused,
    Press,
    PutInFire,
    RecipePinned,
    Redone,
    RestBrokenOff,
    RestEnded,
    RestSkipped,
    RestStarted,
    Resumed,
    Scrapped,
    SessionBegan,
    StepFinished,
    StepReopened,
    Swapped,
    TakenOut,
    Undone,
)
from forgelog.work.fold import applied, in_order
from forgelog.work.moments import Stamp
from forgelog.work.queries import steps_of
from forgelog.work.state import State
from tests.learn.shop import RECIPE

BEGINS_S = 1_760_000_400.0
MOVED = replace(RECIPE, revision="2", components=RECIPE.components[:1])
OTHER = replace(RECIPE, id="other-piece", name="Other piece")


def whole_fold(
    book: Path, at: Stamp | None = None
) -> tuple[Rows, tuple[SessionRow, ...], dict[str, Timeline]]:
    """Rows, sessions at the fire and their timelines, from one fold of all files."""
    state = State()
    heats: dict[str, int] = {}
    worked_s: dict[str, float] = {}
    lines: dict[str, Timeline] = {}
    counted = 0
    for file in in_order(read_sessions(journal_files(book))):
        assert file.header is not None
        states: list[State] = []
        for press in file.presses:
            state = applied(state, press)
            states.append(state)
        so_far = sum(piece.heats_all for piece in state.pieces.values())
        session = file.header.session
        heats[session] = max(0, so_far - counted)
        counted = so_far
        worked_s[session] = max(0.0, states[-1].moment.work_s - states[0].moment.work_s)
        if file.header.kind == "floor":
            lines[session] = of_the_session(draw_timeline(states), state)
    if at is not None and state.stamp is not None:
        state = settle(state, now(state, at))
    floors = sorted(
        (s for s in state.sessions if s.kind == "floor"), key=lambda s: (s.began_s, s.id)
    )
    return make_rows(state), session_rows(floors, heats, worked_s), lines


class RandomBook:
    """Sessions pressed at random: mostly what can be, sometimes what cannot."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)
        self.state = State()
        self.sessions: list[tuple[str, list[Press]]] = []
        self.now_s = BEGINS_S
        self.orders: list[str] = []

    def make(self, sessions: int, presses: int) -> RandomBook:
        """Press so many sessions of at most so many presses."""
        for _ in range(sessions):
            self._session(presses)
        return self

    def lines(self) -> dict[str, list[bytes]]:
        """The lines of each session's file, by its name below the journal."""
        return {
            f"{session[:4]}/{session}.jsonl": [write_line(press) for press in presses]
            for session, presses in self.sessions
        }

    def _session(self, most: int) -> None:
        rng = self.rng
        number = len(self.sessions)
        # Now and then a clock is set back, or another laptop's session lies across this one.
        self.now_s += rng.choice((600.0, 60_000.0, 60_000.0, 900_000.0, -3_000.0))
        session = f"2025{number:04}T000000Z-anvil7k-{number:04}"
        desk = rng.random() < 0.25
        last = self.sessions[-1][0] if self.sessions else ""
        began = SessionBegan(
            version="1",
            session=session,
            device=rng.choice(("anvil7k", "horn3x")),
            kind="desk" if desk else "floor",
            practice=20.0 if rng.random() < 0.15 else 0.0,
            continues=last if rng.random() < 0.25 else "",
            orders=tuple(o for o in self.orders if rng.random() < 0.7),
            seen={last: 0} if last and rng.random() < 0.5 else {},
        )
        self.presses: list[Press] = []
        self.sessions.append((session, self.presses))
        facts: list[AnyFact] = [began]
        if rng.random() < 0.1:
            facts.append(self._pinned())  # may be what cannot be: then nobody sees it begin
        elif not desk and rng.random() < 0.8:
            facts.append(FireLit(method=rng.choice(("hand", "power"))))
        self._press(*facts)
        for _ in range(rng.randrange(3) if desk else rng.randrange(most)):
            self.now_s += rng.choice((1.0, 20.0, 90.0, 400.0, 4_000.0))
            self._press(*self._something())

    def _press(self, *facts: AnyFact) -> None:
        stamp = Stamp(
            wall=self.now_s,
            steady=self.now_s - BEGINS_S,
            awake=self.now_s - BEGINS_S,
            boot=f"b{len(self.sessions) // 3}",
        )
        press = Press(seq=len(self.presses), at=stamp, facts=facts)
        self.presses.append(press)
        self.state = applied(self.state, press)

    def _something(self) -> tuple[AnyFact, ...]:
        """Facts that can be, most often."""
        for _ in range(12):
            facts = self.rng.choice(self._deeds())()
            press = Press(seq=9999, at=Stamp(wall=self.now_s, steady=0.0, awake=0.0), facts=facts)
            troubles = len(self.state.troubles)
            if len(applied(self.state, press).troubles) == troubles or self.rng.random() < 0.05:
                return facts
        return (Paused(),)

    def _deeds(self) -> list[Callable[[], tuple[AnyFact, ...]]]:
        rng, state = self.rng, self.state
        if not state.pieces or rng.random() < 0.04:
            return [self._new_order]
        piece = rng.choice(list(state.pieces.values()))
        steps = steps_of(state, piece)
        step = steps[piece.step] if piece.step < len(steps) else rng.choice(steps)
        any_step = rng.choice(steps).id
        other = rng.choice(list(state.pieces.values()))
        who, at, order = piece.id, step.id, piece.order
        again = NewPiece(
            id=f"{order}/{piece.component}/{state.orders[order].serials + 1}",
            component=piece.component,
            serial=state.orders[order].serials + 1,
            remade_from=who,
        )
        worked = {
            "waiting": [
                lambda: (PutInFire(workpiece=who),),
                lambda: (BenchBegun(workpiece=who, step=at),),
                lambda: (RestSkipped(workpiece=who, step=at, until="black"),),
                lambda: (StepFinished(workpiece=who, step=at, heats_unknown=True),),
                lambda: (self._rest(who, at),),
                lambda: (self._rest(who, ""),),
            ],
            "fire": [
                lambda: (TakenOut(workpiece=who),),
                lambda: (TakenOut(workpiece=who),),
                lambda: (self._rest(who, at),),
                lambda: (LaidAside(workpiece=who),),
                lambda: (FireWentOut(),),
            ],
            "hand": [
                lambda: (HeatOver(workpiece=who),),
                lambda: (HeatOver(workpiece=who, to="aside", counted=False),),
                lambda: (StepFinished(workpiece=who, step=at, to=rng.choice(("aside", "hand"))),),
                lambda: (EndCutOff(workpiece=who, lost_mm=4.0),),
                lambda: (Swapped(workpiece=who, other=other.id),),
            ],
            "resting": [
                lambda: (
                    RestEnded(
                        workpiece=who, step=at, rested_s=9.0, verdict=rng.choice(("ok", "short"))
                    ),
                ),
                lambda: (RestBrokenOff(workpiece=who, step=at, by="water"),),
            ],
            "bench": [lambda: (StepFinished(workpiece=who, step=at),)],
        }.get(piece.place, [])
        return [
            *(worked * 4),
            self._new_order,
            lambda: (MethodChanged(method=rng.choice(("hand", "power"))),),
            lambda: (rng.choice((Paused(), Resumed(), FireStayed(), DayEnded(where="box"))),),
            lambda: (FireLit(),),
            lambda: (Cracked(workpiece=who),),
            lambda: (Gauged(workpiece=who, step=at, what="eye", fits=True, mm=12.0),),
            lambda: (HeatsCorrected(workpiece=who, step=any_step, heats=rng.randint(1, 6)),),
            lambda: (HeatEndedEarlier(workpiece=who, seconds=5.0),),
            lambda: (StepReopened(workpiece=who, step=any_step, why="thick"),),
            lambda: (Scrapped(workpiece=who, why="burnt", remake=rng.choice((None, again))),),
            lambda: (MadeAgain(workpiece=who, remake=again),),
            lambda: (Assembled(workpiece=who, parts=(other.id,)),),
            lambda: (self._pinned(),),
            lambda: (OrderClosed(order=order),),
            lambda: (Undone(press=state.made_by[1], session=state.made_by[0]),),
            lambda: (Undone(press=state.made_by[1], session=state.made_by[0]),),
            lambda: (
                Redone(
                    press=state.undone[-1].made_by[1] if state.undone else 0,
                    session=state.undone[-1].made_by[0] if state.undone else "",
                ),
            ),
        ]

    def _rest(self, workpiece: str, step: str) -> RestStarted:
        return RestStarted(
            workpiece=workpiece,
            step=step,
            until="black",
            start_degc=850.0,
            needed_s=self.rng.choice((100.0, 5_000.0, 200_000.0)),
            then_s=(300.0,),
        )

    def _new_order(self) -> tuple[AnyFact, ...]:
        order = f"anvil7k-{len(self.orders):04}"
        self.orders.append(order)
        taken = OrderTaken(order=order, label=order, title="gate", recipe="test-piece")
        made = tuple(
            NewPiece(id=f"{order}/{c}/{n}", component=c, serial=n, slot=f"{c} {n}")
            for n, c in enumerate(("strap", "strap", "head"), 1)
        )
        recipe = self.rng.choice((RECIPE, OTHER))
        return (taken, RecipePinned(order=order, recipe=recipe, made=made))

    def _pinned(self) -> RecipePinned:
        order = self.rng.choice(self.orders or ["none"])
        pieces = [p for p in self.state.pieces.values() if p.order == order]
        moved = {p.id: "eye" for p in pieces if p.component == "strap"}
        return RecipePinned(order=order, recipe=MOVED, moved=moved)
