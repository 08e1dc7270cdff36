"""The guarded rule: from the problem and what has happened to the next deed.

Before any stretch of hand work it asks what could burn meanwhile, were the stretch to take longer
than planned, and lays that aside first. Pieces go into the fire only if all in it can be drawn in
time; a set-up counts in that. The longest chain goes first. No chance, no clock: the same present
gives the same deed.
"""

from __future__ import annotations

from forgelog.floor.planning.danger import hot_in_time, in_danger
from forgelog.floor.planning.deeds import ASIDE, BOUT, HEAT, PART, PUT, SCRAP, SETUP, WAIT, Move
from forgelog.floor.planning.going import BENCH, FORGE, Going
from forgelog.floor.planning.in_reach import SOON_S, best_treat, hands_now, puts_now
from forgelog.floor.planning.rule import Rule

FRUITLESS = 15
"""After so many lay-asides and set-ups with nothing worked, one piece is worked by itself."""
BURNT = 3
"""What was burnt so often burns again in company: until it is done, one piece goes by itself."""


def choose(going: Going, rule: Rule) -> Move:
    """The next deed."""
    now = going.now
    for i in going.fire:
        if going.seen[i] and now > going.burns(i):
            return Move(SCRAP, i=i)
    if going.locked >= 0:
        return _within_lock(going, rule)
    figures = going.figures
    day = now // figures.day_s * figures.day_s
    close = day + figures.close_s
    if going.fire and now >= close:
        return Move(ASIDE, i=going.fire[0])
    if going.fruitless > FRUITLESS or any(going.burnt[i] >= BURNT for i in going.live):
        return _plainly(going, rule, close)
    treat = best_treat(going, rule, close)
    tooled: Move | None = None
    if len(going.fire) < figures.places and now < close:
        puts, tooled = puts_now(going, rule, treat.score if treat else None)
        if puts:
            return puts[0]
    moves = hands_now(going, rule, tooled)
    if treat is not None and not going.fire:
        moves.append(treat)
    if not moves:
        return _nothing(going)
    best = max(moves, key=_score)
    if best.start > now:
        for i in going.fire:
            if going.seen[i] and going.burns(i) <= now:
                return Move(ASIDE, i=i)
        return Move(WAIT, until=min(best.start, next_event(going)))
    if best.do != PART:
        best.asides = in_danger(going, rule, best)
    return best


def _plainly(going: Going, rule: Rule, close: int) -> Move:
    """One piece by itself, so that the work goes on whatever the weights say."""
    now, figures, fire = going.now, going.figures, going.fire
    if fire:
        row = going.row[fire[0]]
        if len(fire) > 1 or row.tooling not in (None, going.tooling):
            return Move(ASIDE, i=fire[-1])
        if going.seen[fire[0]]:
            return Move(HEAT, i=fire[0], start=now)
        return Move(WAIT, until=next_event(going))
    opens = close - figures.close_s + figures.light_s
    day_end = close - figures.close_s + figures.day_s
    for i in sorted(going.live, key=lambda j: (-rule.worth(going, j), j)):
        row = going.row[i]
        if going.waits[i] or going.ready[i] > now:
            continue
        if row.kind == FORGE and opens <= now and hot_in_time(going, rule, i, close):
            if row.tooling in (None, going.tooling):
                return Move(PUT, i=i, start=now)
            if now + figures.setup_s[row.tooling or ""] <= day_end:
                return Move(SETUP, i=i, tooling=row.tooling or "", start=now)
        if row.kind == BENCH and now + row.bout_s * rule.hard <= day_end:
            return Move(BOUT, i=i, start=now)
    treat = best_treat(going, rule, close)
    return treat if treat is not None else Move(WAIT, until=next_event(going))


def _score(move: Move) -> float:
    return move.score


def _nothing(going: Going) -> Move:
    until = next_event(going)
    for i in going.fire:
        if going.burns(i) <= going.now and going.seen[i]:
            return Move(ASIDE, i=i)
    return Move(WAIT, until=until)


def next_event(going: Going) -> int:
    """The next moment at which something changes by itself."""
    now, figures = going.now, going.figures
    day = now // figures.day_s * figures.day_s
    until = day + figures.day_s + (figures.light_s if now >= day + figures.light_s else 0)
    for moment in (day + figures.light_s, day + figures.close_s, day + figures.day_s):
        if now < moment < until:
            until = moment
    for i in going.fire:
        hot = going.hot[i]
        if not going.seen[i]:
            until = min(until, hot if hot > now else now + SOON_S)
        burns = going.burns(i)
        if now < burns < until:
            until = burns
    for i in going.live:
        if now < going.ready[i] < until:
            until = going.ready[i]
    if going.locked >= 0:
        i = going.locked
        begin = going.end[i] + going.row[i].parts[going.done[i] - 1][2]
        if now < begin < until:
            until = begin
    return until


def _within_lock(going: Going, rule: Rule) -> Move:
    """Between two parts: bench work or a set-up that fits, else the next part in its time."""
    now, i = going.now, going.locked
    part = going.row[i].parts[going.done[i] - 1]
    begin = going.end[i] + part[2]
    last = begin + part[3]
    best: Move | None = None
    if now < begin:
        best_score = -1.0e18
        for j in going.live:
            row = going.row[j]
            if row.kind != BENCH or going.waits[j] or going.ready[j] > now:
                continue
            over_s = now + row.bout_s - begin
            if now + row.bout_s * rule.hard > last or over_s > begin - now:
                continue
            score = rule.worth(going, j) - max(0, over_s) * rule.wait
            if score > best_score:
                best_score = score
                best = Move(BOUT, i=j, start=now, score=score)
    if best is not None:
        return best
    if now >= begin:
        return Move(PART, i=i, start=now)
    return Move(WAIT, until=next_event(going))
