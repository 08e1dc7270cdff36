"""From the floor as it stands to the planning problem and how far the work on it is.

One workpiece is one component of the problem. Shop time has no nights that the floor knows of, so
the problem is one long day that began long ago.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import msgspec

from forgelog.floor.planning.piece_steps import BOUT_S, DAY_BOUT_S, NOW_S, PieceSteps, jig_of
from forgelog.floor.planning.problem import (
    Component,
    Fire,
    Order,
    Piece,
    Problem,
    Run,
    Standing,
    Tooling,
)
from forgelog.floor.settings import FloorSettings
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    component_of,
    live,
    order_open,
    recipe_of,
    steps_of,
)
from forgelog.work.state import (
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    State,
    Workpiece,
)

StepKey = tuple[str, str, str, str]
"""Recipe, component, step, method: as heats are learnt."""
NO_STEP = 1 << 30
DAY_S = 1_000_000_000
WORKING_DAY_S = 8 * 3600
"""Of work in one day, for dates. Common practice."""
JIG_S = 90
"""To set up a jig at the anvil. Common practice."""


class Hours(msgspec.Struct, frozen=True, kw_only=True):
    """How long there is to work, for a plan of days; nights take no room."""

    left_s: int
    """From now to the end of today's work."""
    day_s: int = WORKING_DAY_S
    """Of every later day."""
    close_s: int = 0
    """How long before its end the fire is let go out."""

    @property
    def whole_s(self) -> int:
        """One day on the problem's scale: all days are alike there, so it is the longest."""
        return max(self.left_s, self.day_s)

    @property
    def present_s(self) -> int:
        """Now, on the problem's scale."""
        return NOW_S - NOW_S % self.whole_s + self.whole_s - self.left_s


class Floor(msgspec.Struct, frozen=True, kw_only=True):
    """The problem and the run, and where each recipe step is in the problem."""

    problem: Problem
    run: Run
    steps: dict[str, tuple[int, ...]]
    """By workpiece: for each step of the recipe its number in the problem."""
    keys: dict[str, dict[int, StepKey]] = {}
    """By workpiece: for each step of the problem what it is learnt under."""


def floor_problem(
    state: State,
    now: Moment,
    settings: FloorSettings,
    *,
    blocked: frozenset[str] = frozenset(),
    hours: Hours | None = None,
    held: Mapping[str, int] = {},
) -> Floor:
    """The problem of everything that is still to be done on the open orders.

    Args:
        state: What stands.
        now: Shop time.
        settings: Of this floor: learnt heats, the shop's own time to look.
        blocked: Workpieces that must not be taken up now.
        hours: For a plan of days; None where the work goes on without an end of the day.
        held: By workpiece the step of its recipe that cannot be done: it is worked up to there, and
            what waits for it is left out.
    """
    orders: list[Order] = []
    standing: dict[str, Standing] = {}
    steps: dict[str, tuple[int, ...]] = {}
    jigs: dict[str, Tooling] = {}
    keys: dict[str, dict[int, StepKey]] = {}
    present_s = hours.present_s if hours is not None else NOW_S
    bout_s = DAY_BOUT_S if hours is not None else BOUT_S
    by_order: dict[str, list[Workpiece]] = {}
    for piece in state.pieces.values():
        if live(piece) and order_open(state.orders[piece.order]):
            by_order.setdefault(piece.order, []).append(piece)
    dated = sorted(
        by_order,
        key=lambda o: (state.orders[o].promised or "9999", state.orders[o].taken_s, o),
    )
    for name in dated:
        pieces = by_order[name]
        needs = _needs(state, name, pieces, held)
        made = []
        for piece in pieces:
            if piece.id not in needs or piece.step >= held.get(piece.id, NO_STEP):
                continue
            maker = PieceSteps(state, piece, now, settings, present_s, bout_s)
            maker.work()
            if piece.id in held:
                maker.stop_before(held[piece.id])
            recipe = recipe_of(state, piece).id
            keys[piece.id] = {
                at: (recipe, piece.component, step.id, state.method)
                for at, step in reversed(list(zip(maker.at, maker.recipe, strict=True)))
            }
            steps[piece.id] = tuple(maker.at)
            jigs.update((t, Tooling(setup_s=JIG_S)) for t in maker.jigs)
            component = Component(
                id=piece.id,
                set=f"{piece.component}/{piece.pin}",
                needs=needs[piece.id],
                steps=tuple(maker.steps),
            )
            made.append(Piece(id=piece.id, components=(component,)))
            standing[piece.id] = maker.standing(piece.id in blocked)
        if made:
            order = state.orders[name]
            orders.append(
                Order(id=name, pieces=tuple(made), due_s=_due_s(order.promised, now, hours))
            )
    day_s = hours.whole_s if hours is not None else DAY_S
    problem = Problem(
        day_s=day_s,
        fire=Fire(
            places=max(1, state.fire.places),
            light_s=0 if state.fire.lit else day_s - 1,
            close_s=hours.close_s if hours is not None else 0,
            kind=state.fire.kind,
        ),
        orders=tuple(orders),
        tooling=jigs,
    )
    run = Run(now_s=present_s, standing=standing, tooling=jig_standing(state))
    return Floor(problem=problem, run=run, steps=steps, keys=keys)


def _due_s(promised: str, now: Moment, hours: Hours | None) -> int | None:
    """When an order is due, on the problem's scale, a working day for each day."""
    if not promised:
        return None
    try:
        day = date.fromisoformat(promised)
    except ValueError:
        return None
    today = int(now.rest_s // 86_400) + date(1970, 1, 1).toordinal()
    if hours is None:
        return NOW_S + max(-30, day.toordinal() - today + 1) * WORKING_DAY_S
    end_s = hours.present_s + hours.left_s
    return end_s + hours.whole_s * max(-30, working_days(today, day.toordinal()))


def working_days(first: int, last: int) -> int:
    """How many working days after `first` a day is; below 0 for one before. Saturday is a rest.

    Args:
        first: Day by its ordinal (1 is a Monday).
        last: The other day.
    """

    def weekdays(day: int) -> int:
        weeks, over = divmod(day - 1, 7)
        return weeks * 5 + min(5, over + 1)

    return weekdays(last) - weekdays(first)


def jig_standing(state: State) -> str | None:
    """What stands at the anvil: no key tells it, so the last piece that wanted a jig does.

    A piece that went into the fire for a jig counts: its jig was set up before.
    """
    last_s, found = -1.0, None
    for piece in state.pieces.values():
        if not piece.begun and not piece.done:
            continue
        steps = steps_of(state, piece)
        wants = {step.id: jig for step in steps if (jig := jig_of(step)) is not None}
        if not wants:
            continue
        worked = [(r.ended_s, r.step) for r in piece.done]
        if piece.step < len(steps):
            step = steps[piece.step]
            if piece.place in (FIRE, HAND):
                worked.append((piece.since_s, step.id))
            elif piece.heats and piece.last_heat_s is not None:
                worked.append((piece.last_heat_s, step.id))
        for at_s, name in worked:
            if at_s > last_s and name in wants:
                last_s, found = at_s, wants[name]
    return found


def _needs(
    state: State, order: str, pieces: list[Workpiece], held: Mapping[str, int]
) -> dict[str, tuple[str, ...]]:
    """For each live piece the live pieces that it waits for; a piece that can get none is left out.

    Parts of an assembly's own set and mark go first, as when they are taken up.
    """
    stock = [
        p
        for p in state.pieces.values()
        if p.order == order and (live(p) or p.place == FINISHED) and p.place != FITTED
    ]
    left = {p.id: (p.lot - p.used if p.lot else 1) for p in stock}
    found: dict[str, tuple[str, ...]] = {}
    for piece in pieces:
        component = component_of(state, piece)
        if not component.needs or piece.parts or piece.step:
            found[piece.id] = ()
            continue
        waits: list[str] = []
        enough = True
        for need in component.needs:
            wanted = need.count
            parts = [p for p in stock if p.component == need.component and left[p.id] > 0]
            parts.sort(key=lambda p: (p.set != piece.set, p.mark != piece.mark, p.serial))
            for part in parts:
                if wanted <= 0:
                    break
                share = min(wanted, left[part.id])
                left[part.id] -= share
                wanted -= share
                if live(part):
                    waits.append(part.id)
            enough = enough and wanted <= 0
        if enough:
            found[piece.id] = tuple(waits)
    # What waits for a piece that was left out can not be made either.
    while True:
        gone = [i for i, waits in found.items() if any(w not in found or w in held for w in waits)]
        if not gone:
            return found
        for i in gone:
            del found[i]
