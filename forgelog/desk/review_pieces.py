"""What a review tells of pieces: rests kept and not kept, pieces spoilt, and other trouble."""

from __future__ import annotations

from forgelog.desk.review_facts import RemakeTold, RestsTold, RestTold, TroubleTold
from forgelog.desk.review_read import Folded
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import minutes, piece_words, step_words
from forgelog.learn.rests import UNSURE, RestSeen, see_rests, tally_rests
from forgelog.learn.timeline import draw_timeline
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.work.queries import recipe_of, step_of, steps_of
from forgelog.work.state import SCRAPPED, State, Workpiece

CYCLE_RISK = "coarse grain, a common cause of cracked tools (common practice)"
REST_RISK = "worked on too cold: cold shuts, cracks (common practice)"
AGAIN = "Do it again before it is hardened."
HARDENED = "It was hardened after that: look for cracks before it is used."


def tell_rests(folded: Folded, scope: Scope) -> RestsTold:
    """How the rests went: those not kept with what they risk, lost normalising cycles first."""
    seen = [
        rest
        for rest in see_rests(folded.state, practice=folded.practice)
        if scope.takes(rest.recipe, rest.record.session)
    ]
    tally = tally_rests(seen)
    return RestsTold(
        kept=tally.kept,
        unsure=tally.unsure,
        short=tally.short,
        skipped=tally.skipped,
        broken=tally.broken,
        faults=tuple(_rest(folded.state, rest, scope) for rest in seen if rest.faulty),
        doubts=tuple(
            _rest(folded.state, rest, scope)
            for rest in seen
            if rest.verdict == UNSURE and not rest.faulty
        ),
    )


def _rest(state: State, rest: RestSeen, scope: Scope) -> RestTold:
    piece, record = rest.piece, rest.record
    return RestTold(
        recipe=rest.recipe,
        workpiece=piece.id,
        piece=piece_words(state, piece),
        session=record.session,
        step=record.step,
        do=_rest_words(rest, scope),
        until=harmless(record.until),
        verdict=rest.verdict,
        normalising=rest.normalising,
        matters=rest.matters,
        open=not rest.over and state.orders[piece.order].closed is None,
        rested_min=None if record.rested_s is None else minutes(record.rested_s),
        needed_min=minutes(record.needed_s) if record.needed_s else None,
        degc_at_end=None if record.degc_at_end is None else round(record.degc_at_end),
        broken_by=harmless(record.broken_by),
        risk=_risk(rest, scope),
        advice=_advice(state, rest),
    )


def _rest_words(rest: RestSeen, scope: Scope) -> str:
    """What the step is called; a plain rest by what it waits for: "rest to black"."""
    words = step_words(rest.step, rest.record.step, scope.units)
    until = harmless(rest.record.until)
    goal = rest.step.rest if rest.step is not None else None
    if words != "rest" or not until:
        return words
    return f"rest {until}" if goal is not None and goal.seconds is not None else f"rest to {until}"


def _risk(rest: RestSeen, scope: Scope) -> str:
    if rest.normalising:
        return CYCLE_RISK
    why = rest.step.rest.why if rest.step is not None and rest.step.rest is not None else ""
    return f"why it rests: {render(why, scope.units)}" if why else REST_RISK


def _advice(state: State, rest: RestSeen) -> str:
    if not rest.lost_cycle or rest.over:
        return ""
    hardens = {s.id for s in steps_of(state, rest.piece) if s.kind == "harden"}
    if hardens & {r.step for r in rest.piece.done}:
        return HARDENED
    return AGAIN if hardens else ""


def tell_remakes(folded: Folded, scope: Scope) -> tuple[RemakeTold, ...]:
    """Pieces that were spoilt, the latest first."""
    state = folded.state
    remade = {p.remade_from: p.id for p in state.pieces.values() if p.remade_from}
    spoilt = sorted(
        (p for p in state.pieces.values() if p.place == SCRAPPED),
        key=lambda p: (-p.since_s, p.id),
    )
    told: list[RemakeTold] = []
    for piece in spoilt:
        recipe = recipe_of(state, piece).id
        session = _session_at(folded, piece)
        if session is None or not scope.takes(recipe, session):
            continue
        step = step_of(state, piece)
        told.append(
            RemakeTold(
                recipe=recipe,
                workpiece=piece.id,
                piece=piece_words(state, piece),
                step=step.id if step else "",
                do=step_words(step, "", scope.units) if step else "when it was finished",
                why=harmless(piece.scrapped_why),
                remade_as=remade.get(piece.id, ""),
                open=state.orders[piece.order].closed is None,
                in_shown=session == folded.shown,
            )
        )
    return tuple(told)


def _session_at(folded: Folded, piece: Workpiece) -> str | None:
    """The session in which the piece came to its place; None where it was one of the other kind.

    "" where it was at the desk, between two sessions.
    """
    held = [s for s in folded.state.sessions if s.began_s <= piece.since_s <= s.ended_s]
    named = [s for s in held if s.kind == "floor" and piece.order in s.orders]
    found = (named or held)[-1:]
    if not found:
        return None if folded.practice else ""
    return found[0].id if (found[0].practice > 0.0) == folded.practice else None


def tell_troubles(folded: Folded, scope: Scope) -> tuple[TroubleTold, ...]:
    """Pieces that had trouble and were worked on: burnt ends, cracks, steps done again."""
    state = folded.state
    worked = {s.workpiece for s in draw_timeline(folded.states).spans} if folded.states else set()
    return tuple(
        TroubleTold(
            recipe=recipe_of(state, piece).id,
            workpiece=piece.id,
            piece=piece_words(state, piece),
            words=harmless(words),
        )
        for piece in state.pieces.values()
        for words in piece.troubles
        if words != "remade"
        and state.orders[piece.order].closed is None
        and (not scope.session or piece.id in worked)
        and (not scope.recipe or recipe_of(state, piece).id == scope.recipe)
    )
