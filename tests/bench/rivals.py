"""Other ways to work, to compare with: each decides with the same eyes as the rule.

One piece at a time is what a cautious smith does: a component is taken up, finished, its rests
waited for, and only then the next; a less patient one takes the next while it rests. Round robin
fills the fire with what comes next in turn and asks nothing.
"""

from __future__ import annotations

from forgelog.floor.planning.decide import next_event
from forgelog.floor.planning.deeds import ASIDE, BOUT, HEAT, PART, PUT, SCRAP, SETUP, WAIT, Move
from forgelog.floor.planning.going import BENCH, FORGE, TREAT, Going
from forgelog.floor.planning.in_reach import SOON_S
from forgelog.floor.planning.rule import Rule


def _seen_to(going: Going, rule: Rule) -> Move | None:
    """What both do alike: scrap what burnt, empty the fire at its closing, keep a lock."""
    now, figures = going.now, going.figures
    close = now - now % figures.day_s + figures.close_s
    for i in going.fire:
        if going.seen[i] and now > going.burns(i):
            return Move(SCRAP, i=i)
    if going.fire and now >= close:
        return Move(ASIDE, i=going.fire[0])
    if going.locked >= 0:
        i = going.locked
        begin = going.end[i] + going.row[i].parts[going.done[i] - 1][2]
        return Move(PART, i=i) if now >= begin else Move(WAIT, until=next_event(going))
    return None


def _may_treat(going: Going, rule: Rule, i: int) -> bool:
    now, figures = going.now, going.figures
    day = now - now % figures.day_s
    ends = now + going.row[i].until_fire_s * rule.treat_care
    return day + figures.light_s <= now and ends <= day + figures.close_s and not going.fire


def _may_heat(going: Going, rule: Rule, i: int) -> bool:
    now, figures = going.now, going.figures
    day = now - now % figures.day_s
    hot = now + going.soak_s(i, now)
    return day + figures.light_s <= now and hot + (hot - now) * 0.3 <= day + figures.close_s


def _fits_day(going: Going, rule: Rule, i: int) -> bool:
    figures = going.figures
    day_end = going.now - going.now % figures.day_s + figures.day_s
    return going.now + going.row[i].bout_s * rule.hard <= day_end


def one_at_a_time(going: Going, rule: Rule) -> Move:
    """The first component that is not finished and needs nothing more, all of it."""
    move = _seen_to(going, rule)
    if move is not None:
        return move
    begun = [i for i in going.live if going.step[i] or going.done[i]]
    return _alone(going, rule, (begun or [j for j in going.live if not going.waits[j]])[0])


def next_while_it_rests(going: Going, rule: Rule) -> Move:
    """One piece at a time too, but another is taken up while it rests; begun ones go first."""
    move = _seen_to(going, rule)
    if move is not None:
        return move
    if going.fire:
        return _alone(going, rule, going.fire[0])
    free = [i for i in going.live if not going.waits[i] and going.ready[i] <= going.now]
    free.sort(key=lambda i: not (going.step[i] or going.done[i]))
    for i in free:
        move = _alone(going, rule, i)
        if move.do != WAIT:
            return move
    return Move(WAIT, until=next_event(going))


def _alone(going: Going, rule: Rule, i: int) -> Move:
    """What is next on this component, with no other in the fire."""
    now = going.now
    row = going.row[i]
    if going.fire:
        if going.seen[i]:
            return Move(HEAT, i=i)
        return Move(WAIT, until=going.hot[i] if going.hot[i] > now else now + SOON_S)
    if going.ready[i] > now:
        return Move(WAIT, until=next_event(going))
    if row.kind == FORGE and row.tooling not in (None, going.tooling):
        return Move(SETUP, tooling=row.tooling or "")
    if row.kind == FORGE and _may_heat(going, rule, i):
        return Move(PUT, i=i)
    if row.kind == TREAT and _may_treat(going, rule, i):
        return Move(PART, i=i)
    if row.kind == BENCH and _fits_day(going, rule, i):
        return Move(BOUT, i=i)
    return Move(WAIT, until=next_event(going))


class RoundRobin:
    """Everything in turn; whatever fits goes into the fire."""

    def __init__(self) -> None:
        self.turn = -1

    def __call__(self, going: Going, rule: Rule) -> Move:
        """The next deed."""
        move = _seen_to(going, rule)
        if move is not None:
            return move
        figures, now = going.figures, going.now
        count = len(figures.ids)
        live = sorted(going.live, key=lambda j: (j - self.turn - 1) % count)
        ready = [j for j in live if not going.waits[j] and going.ready[j] <= now]
        treats = [j for j in ready if going.row[j].kind == TREAT]
        if treats and _may_treat(going, rule, treats[0]):
            return Move(PART, i=treats[0])
        if len(going.fire) < figures.places and not treats:
            for j in ready:
                if going.row[j].kind == FORGE and j not in going.fire and _may_heat(going, rule, j):
                    self.turn = j
                    return Move(PUT, i=j)
        hot = [j for j in going.fire if going.seen[j]]
        move = None
        if hot:
            j = min(hot, key=lambda k: going.hot[k])
            row = going.row[j]
            if row.tooling in (None, going.tooling):
                move, long_s = Move(HEAT, i=j), row.hand_s
            else:
                move = Move(SETUP, tooling=row.tooling or "")
                long_s = figures.setup_s[row.tooling or ""]
        else:
            for j in ready:
                if going.row[j].kind == BENCH and _fits_day(going, rule, j):
                    move, long_s = Move(BOUT, i=j), going.row[j].bout_s
                    break
        if move is None:
            return Move(WAIT, until=next_event(going))
        close = now - now % figures.day_s + figures.close_s
        if now + long_s * rule.hard > close:
            move.asides = [j for j in going.fire if j != move.i]
        return move
