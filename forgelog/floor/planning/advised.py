"""What to take next, ranked, each with its reason in a few words."""

from __future__ import annotations

import msgspec

from forgelog.floor.planning.danger import in_danger
from forgelog.floor.planning.decide import choose
from forgelog.floor.planning.deeds import ASIDE, BOUT, HEAT, PART, SCRAP, SETUP, WAIT, Move
from forgelog.floor.planning.going import Figures, Going, going_from
from forgelog.floor.planning.in_reach import best_treat, hands_now, puts_now
from forgelog.floor.planning.problem import Problem, Run
from forgelog.floor.planning.rule import BOTH, Care, Rule, Weights

ASIDE_WORDS = "would burn: lay it aside"
JIG_WORDS = "set up its jig first"


class Advised(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to do next."""

    do: str
    """put, heat, bench, treat, setup, aside or scrap."""
    component: str
    """For a set-up: the component that wants it."""
    why: str
    """At most six words."""
    in_s: int = 0
    """Seconds until it can begin."""
    tooling: str = ""


def advise_next(
    problem: Problem, run: Run, *, weights: Weights = BOTH, care: Care | None = None
) -> tuple[Advised, ...]:
    """What to do next with nothing in hand, best first.

    Args:
        problem: Everything that is to be made.
        run: What has happened.
        weights: How the rule weighs its reasons.
        care: How carefully; None for the usual guard.

    Raises:
        ValueError: the problem's needs go in a circle.
        KeyError: the run names a component that the problem does not have.
    """
    figures = Figures(problem)
    return rank(going_from(figures, run), Rule(figures, weights, care or Care()))


def rank(going: Going, rule: Rule) -> tuple[Advised, ...]:
    """The ranked deeds of a present; the present is left as it is.

    Nothing is among them during which a piece in the fire could burn, unless that is laid aside.
    """
    figures = going.figures
    first = choose(going, rule)
    moves = [first] if first.do != WAIT else []
    moves[:0] = [Move(ASIDE, i=i) for i in first.asides]
    if going.locked < 0 and first.do not in (SCRAP, ASIDE):
        close = going.now - going.now % figures.day_s + figures.close_s
        treat = best_treat(going, rule, close)
        puts: list[Move] = []
        tooled: Move | None = None
        if len(going.fire) < figures.places and going.now < close:
            puts, tooled = puts_now(going, rule, treat.score if treat else None, every=True)
        hands = hands_now(going, rule, tooled, every=True)
        if treat is not None and not going.fire:
            hands.append(treat)
        hands.sort(key=lambda m: -m.score)
        moves += [m for m in hands if m.do not in (BOUT, SETUP) or not in_danger(going, rule, m)]
        moves += puts
    found: dict[tuple[str, str], Advised] = {}
    for move in moves:
        i = move.i
        name = figures.ids[i] if i >= 0 else ""
        found.setdefault(
            (move.do, name),
            Advised(
                do=move.do,
                component=name,
                why=why(going, rule, move),
                in_s=max(0, move.start - going.now) if move.do == HEAT else 0,
                tooling=move.tooling,
            ),
        )
    return tuple(found.values())


def why(going: Going, rule: Rule, move: Move) -> str:
    """The reason for a deed, at most six words."""
    i = move.i
    if move.do == SCRAP:
        return "it is burnt"
    if move.do == ASIDE:
        return ASIDE_WORDS
    if move.do == HEAT:
        left_s = move.start - going.now
        return "hot now" if left_s <= 0 else f"look in about {minutes(left_s)}"
    if move.do == SETUP:
        return JIG_WORDS
    if move.do == PART:
        return "its next part is due" if going.locked >= 0 else "the fire is free for it"
    if move.do == BOUT:
        return "bench work while the fire heats" if going.fire else "bench work"
    row = going.row[i]
    if row.tooling is not None and row.tooling != going.tooling:
        return "in now, then set its jig"
    if rule.push[i] and _late_s(going, rule, i) > 0:
        return "its date is near"
    if row.tooling is not None and row.tooling == going.tooling:
        return "jig is set"
    if last_of_set(going, i):
        return "last of the set"
    if going.warm[i]:
        return "still warm"
    return "fire has room"


def _late_s(going: Going, rule: Rule, i: int) -> float:
    """By how much its order would be late if it went on in company from now."""
    return going.now + rule.stretch * going.tail_s(i) - rule.latest[i]


def last_of_set(going: Going, i: int) -> bool:
    """Whether all others of its set are past this step."""
    figures = going.figures
    component = figures.components[i]
    if not component.set:
        return False
    mates = [
        j
        for j, other in enumerate(figures.components)
        if j != i and other.set == component.set and figures.order_of[j] == figures.order_of[i]
    ]
    return bool(mates) and all(going.step[j] > going.step[i] for j in mates)


def minutes(seconds: float) -> str:
    """Whole minutes, or seconds when it is less than one; hours and days from two of them on."""
    whole = int(seconds // 60)
    if whole >= 48 * 60:
        return f"{whole // (24 * 60)} days"
    if whole >= 120:
        return f"{whole // 60} h"
    return f"{whole} min" if whole else f"{int(seconds)} s"
