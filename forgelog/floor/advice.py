"""What to take next: one function of the state.

What may be taken is decided here: never a blocked piece, a rest cut short, or another between
harden and temper. In which order is the planning rule's: hot pieces before they burn, the longest
chain first, a jig that is set, the nearest date. Advice is never an order: any other piece is one
key away.
"""

from __future__ import annotations

from datetime import date

import msgspec

from forgelog.floor.blocks import (
    block,
    chains,
    lock_holder,
    waits_for_temper,
    waived,
)
from forgelog.floor.names import mates, ready_like
from forgelog.floor.planning.advised import Advised, minutes, rank
from forgelog.floor.planning.from_state import floor_problem
from forgelog.floor.planning.going import Figures, going_from
from forgelog.floor.planning.rule import AT_FIRE, FLOOR, Rule
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import look_s
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.work.moments import Moment
from forgelog.work.queries import in_fire, in_hand, live, order_open, recipe_of, step_of, steps_of
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, WAITING, State, Workpiece


class Advice(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to take, and why."""

    piece: str
    why: str
    """At most six words: "hot now", "rest done 2 min ago"."""
    rank: int
    """Lower is sooner."""


def room(state: State) -> int:
    """Free places in the fire; a piece in hand keeps its own."""
    if not state.fire.lit:
        return 0
    held = in_hand(state)
    keeps = 1 if held is not None else 0
    return max(0, state.fire.places - len(in_fire(state)) - keeps)


def rest_left_s(piece: Workpiece, now: Moment) -> float:
    """Seconds until the rest is due; below 0 when it has been for so long."""
    if piece.rest is None:
        return 0.0
    return piece.rest.started_s + piece.rest.needed_s - now.rest_s


def next_step(state: State, piece: Workpiece) -> Step | None:
    """The step that a press would begin: after the rest, for a piece that rests."""
    if piece.place == RESTING and piece.rest is not None and piece.rest.step:
        steps = steps_of(state, piece)
        index = piece.step + 1
        return steps[index] if index < len(steps) else None
    return step_of(state, piece)


def wants_heat(step: Step) -> bool:
    """Forging and heat treatment want the fire."""
    return step.kind == "forge" or step.kind in HEAT_KINDS


LATE = 1 << 20
SPARE = 1 << 21
"""A spare whose run is over comes after all else that waits: it holds no order up."""
WANTS_REST = "wants its rest"
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
NEAR_DAYS = 7


def advise(state: State, now: Moment, settings: FloorSettings) -> tuple[Advice, ...]:
    """Everything worth taking now, soonest first; alike pieces once.

    Never a piece that is blocked, a rest cut short, or anything between harden and temper but the
    piece itself.
    """
    may = _may_be_taken(state, now, settings)
    if not may.found:
        return ()
    order: dict[str, tuple[int, Advised]] = {}
    if any(a.rank > 0 for a in may.found):
        for place, one in enumerate(_ranked(state, now, settings, may)):
            order.setdefault(may.speaks.get(one.component, one.component), (2 * place, one))
    keyed = []
    for plain in may.found:
        why = plain.why
        if plain.rank == 0:
            place = -1
        elif why == WANTS_REST:
            place = 1
        elif plain.piece in order:
            place, ranked = order[plain.piece]
            why = _why(state, plain, ranked, now)
        elif plain.piece in may.risky:
            continue
        else:
            place = LATE + plain.rank
        if _is_left_over(state, state.pieces[plain.piece]):
            place += SPARE
        keyed.append(((place, _old_key(state, plain)), msgspec.structs.replace(plain, why=why)))
    keyed.sort(key=lambda pair: pair[0])
    return tuple(
        msgspec.structs.replace(plain, rank=place) for place, (_, plain) in enumerate(keyed)
    )


def _is_left_over(state: State, piece: Workpiece) -> bool:
    """A spare that lies aside while all those that it was made with are finished."""
    return (
        piece.spare
        and piece.place == WAITING
        and not any(live(mate) and not mate.spare for mate in mates(state, piece))
    )


class _May(msgspec.Struct, frozen=True, kw_only=True):
    """What may be taken, and what may not."""

    found: tuple[Advice, ...]
    blocked: frozenset[str]
    speaks: dict[str, str]
    """Pieces that another alike stands for, and that one."""
    risky: frozenset[str]
    """Where something in the fire might burn meanwhile, unless the rule names them."""


def _may_be_taken(state: State, now: Moment, settings: FloorSettings) -> _May:
    found: list[Advice] = []
    blocked: set[str] = set()
    seen: set[str] = set()
    free = room(state)
    holder = lock_holder(state)
    tempers = {p.id for p in waits_for_temper(state)}
    speaks: dict[str, str] = {}
    heats = any(live(p) for p in in_fire(state))
    risky: set[str] = set()
    for piece in state.pieces.values():
        if not live(piece) or not order_open(state.orders[piece.order]):
            continue
        step = next_step(state, piece)
        if piece.place in (WAITING, RESTING) and step is not None and piece.id not in tempers:
            stands = block(state, piece, step, settings, holder=holder)
            # One that waits for an empty fire is known to the rule, so that the fire may empty.
            clears = step.kind == "harden" and holder is None
            if (
                stands is not None
                and not waived(piece, step, stands.kind)
                and (stands.kind != "lock" or not clears)
            ):
                blocked.add(piece.id)
        if piece.id in seen:
            continue
        alike = ready_like(state, piece)
        seen.update(p.id for p in alike)
        if piece.place not in (FIRE, RESTING):
            speaks.update((p.id, alike[0].id) for p in alike[1:])
        for one in alike if piece.place in (FIRE, RESTING) else alike[:1]:
            advice = _one(state, one, now, settings, free=free, tempers=tempers, holder=holder)
            if advice is None:
                continue
            treated = step is not None and step.kind in ("harden", "temper")
            if treated and advice.why == "hot now":
                advice = msgspec.structs.replace(advice, rank=0)
            locked = holder is not None and holder.id != one.id
            if locked and one.place != FIRE and advice.rank > 1:
                wants = next_step(state, one)
                if wants is not None and wants_heat(wants):
                    continue
            found.append(advice)
            if heats and one.place in (WAITING, RESTING, BENCH):
                risky.add(one.id)
    return _May(
        found=tuple(found),
        blocked=frozenset(blocked),
        speaks=speaks,
        risky=frozenset(risky),
    )


def _ranked(state: State, now: Moment, settings: FloorSettings, may: _May) -> tuple[Advised, ...]:
    """The planning rule's order, without what it may not take."""
    floor = floor_problem(state, now, settings, blocked=may.blocked)
    figures = Figures(floor.problem)
    return rank(going_from(figures, floor.run), Rule(figures, settings.weights or FLOOR, AT_FIRE))


def _why(state: State, plain: Advice, one: Advised, now: Moment) -> str:
    """The rule's reason where it says more than the place does."""
    piece = state.pieces[plain.piece]
    if one.do in ("aside", "setup"):
        return one.why
    if piece.place != WAITING or one.do != "put":
        return plain.why
    if one.why == "its date is near":
        return due_words(state.orders[piece.order].promised, now) or "fire has room"
    return one.why


def due_words(promised: str, now: Moment) -> str:
    """The date of an order: "due Friday", "due 2026-05-12", "over its date"; "" without one."""
    try:
        day = date.fromisoformat(promised)
    except ValueError:
        return ""
    days = day.toordinal() - date(1970, 1, 1).toordinal() - int(now.rest_s // 86_400)
    if days < 0:
        return "over its date"
    if days == 0:
        return "due today"
    return f"due {DAYS[day.weekday()]}" if days < NEAR_DAYS else f"due {promised}"


def _old_key(state: State, advice: Advice) -> tuple[object, ...]:
    """Between equals: what was begun, the nearest date, the recipe's own order."""
    piece = state.pieces[advice.piece]
    order = state.orders[piece.order]
    ids = [c.id for c in recipe_of(state, piece).components]
    chain = chains(steps_of(state, piece))
    return (
        advice.rank,
        not piece.heats,
        order.promised or "9999-99-99",
        order.taken_s,
        order.id,
        ids.index(piece.component),
        chain[piece.step] if piece.step < len(chain) else 0,
        piece.spare,
        piece.since_s,
        piece.serial,
    )


def _one(
    state: State,
    piece: Workpiece,
    now: Moment,
    settings: FloorSettings,
    *,
    free: int,
    tempers: set[str],
    holder: Workpiece | None,
) -> Advice | None:
    step = next_step(state, piece)
    if step is None:
        return None
    if piece.place == HAND:
        return Advice(piece=piece.id, why="in hand", rank=0)
    if piece.place == FIRE:
        left_s = look_s(state, piece, settings) - (now.rest_s - piece.since_s)
        if left_s <= 0:
            return Advice(piece=piece.id, why="hot now", rank=1)
        return Advice(piece=piece.id, why=f"look in about {minutes(left_s)}", rank=6)
    if piece.place == BENCH:
        return Advice(piece=piece.id, why="on the bench", rank=4)
    if piece.place == RESTING:
        left_s = rest_left_s(piece, now)
        if left_s > 0:
            return None
        why = f"rest done {minutes(-left_s)} ago"
        rank = 2 if wants_heat(step) else 5
    elif piece.place == WAITING:
        if step.kind == "rest":
            return Advice(piece=piece.id, why=WANTS_REST, rank=2)
        why = "fire has room" if wants_heat(step) else "bench work"
        rank = 3 if wants_heat(step) else 5
    else:
        return None
    if piece.id in tempers:
        why = "temper at once" if step.kind == "temper" else "then temper at once"
        if wants_heat(step) and free < 1:
            why = "temper at once: the fire is full"
        return Advice(piece=piece.id, why=why, rank=0)
    blocked = block(state, piece, step, settings, holder=holder)
    if blocked is not None and not waived(piece, step, blocked.kind):
        return None
    if wants_heat(step) and free < 1:
        return None
    if step.kind == "gauge":
        why, rank = "to be gauged", 2
    return Advice(piece=piece.id, why=why, rank=rank)
