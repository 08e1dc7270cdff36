"""What could be done now or soon, with its score: into the fire, by hand, a heat treatment."""

from __future__ import annotations

from forgelog.floor.planning.danger import crowded, hot_in_time, in_danger, in_turn
from forgelog.floor.planning.deeds import BOUT, HEAT, PART, PUT, SETUP, Move
from forgelog.floor.planning.going import BENCH, FORGE, TREAT, Going
from forgelog.floor.planning.rule import Rule

SOON_S = 5
"""When a piece whose time is up is not hot yet: look again so soon."""


def puts_now(
    going: Going, rule: Rule, treat: float | None, *, every: bool = False
) -> tuple[list[Move], Move | None]:
    """What may go into the fire now, best first, and a set-up that would let a better piece in.

    Args:
        going: The present.
        rule: The weights.
        treat: How much the best heat treatment presses: weaker pieces stay out, so that the fire
            empties for it.
        every: Find all of them, not only the best.
    """
    now, figures, fire = going.now, going.figures, going.fire
    day = now // figures.day_s * figures.day_s
    lit = now >= day + figures.light_s
    close = day + figures.close_s
    tooling = going.tooling
    aim: str | None = None
    under_way = 0
    busiest = -1.0
    for j in going.live:
        row = going.row[j]
        if row.kind != FORGE or row.tooling is None:
            continue
        if row.tooling == tooling and (j in fire or going.done[j]):
            left = max(1, row.whole - going.done[j])
            under_way = max(under_way, left)
            busiest = max(busiest, rule.worth(going, j))
        elif j in fire:
            aim = row.tooling
    found: list[tuple[float, int]] = []
    waits, ready, rows = going.waits, going.ready, going.row
    for i in going.live:
        row = rows[i]
        if row.kind != FORGE or waits[i] or ready[i] > now or i in fire:
            continue
        score = rule.worth(going, i)
        if going.warm[i]:
            score += rule.warm
        if row.tooling is not None:
            if row.tooling != tooling:
                if aim is not None and row.tooling != aim:
                    continue
                if under_way > 1 and score < busiest + rule.hurry:
                    continue
                score -= rule.tool * figures.setup_s[row.tooling]
            elif aim is not None:
                continue
        found.append((score, i))
    found.sort(key=_first)
    moves: list[Move] = []
    tooled: Move | None = None
    for score, i in found:
        if treat is not None and score < treat:
            break
        row = rows[i]
        changes = row.tooling is not None and row.tooling != tooling
        if lit and not (changes and rule.again) and hot_in_time(going, rule, i, close):
            going.lay(i)
            late = crowded(going, rule, now, -1, tooling)
            if not late and rule.again:
                late = not in_turn(going, rule)
            fire.pop()
            if not late:
                moves.append(Move(PUT, i=i, start=now, score=score))
                if not every:
                    break
        if changes and tooled is None and under_way == 0 and aim is None:
            tooled = Move(SETUP, tooling=row.tooling or "", i=i, start=now, score=score)
    return moves, tooled


def _first(entry: tuple[float, int]) -> tuple[float, int]:
    return (-entry[0], entry[1])


def best_treat(going: Going, rule: Rule, close: int) -> Move | None:
    """The heat treatment that presses most of those that can begin before the fire closes."""
    now, figures = going.now, going.figures
    best: Move | None = None
    for i in going.live:
        row = going.row[i]
        if row.kind != TREAT or going.waits[i] or going.ready[i] > now or going.done[i]:
            continue
        if now < close - figures.close_s + figures.light_s:
            continue
        if now + row.until_fire_s * rule.treat_care > close:
            continue
        score = rule.worth(going, i) + rule.treat
        if best is None or score > best.score:
            best = Move(PART, i=i, start=now, score=score)
    return best


def hands_now(going: Going, rule: Rule, tooled: Move | None, *, every: bool = False) -> list[Move]:
    """What the hands may do now or soon, with its score.

    Args:
        going: The present.
        rule: The weights.
        tooled: A set-up that would let a better piece into the fire.
        every: Find all bench work, not only the best.
    """
    now, figures, fire = going.now, going.figures, going.fire
    day_end = now // figures.day_s * figures.day_s + figures.day_s
    moves: list[Move] = []
    wanted: dict[str, tuple[float, int]] = {}
    for i in fire:
        row = going.row[i]
        if row.tooling is None or row.tooling == going.tooling:
            start = now
            if not going.seen[i]:
                start = going.hot[i] if going.hot[i] > now else now + SOON_S
            late = crowded(going, rule, start + row.hand_s * rule.burn, i, going.tooling)
            score = rule.worth(going, i) - rule.wait * (start - now) - rule.aside * late
            moves.append(Move(HEAT, i=i, start=start, score=score))
        else:
            worth = rule.worth(going, i)
            if row.tooling not in wanted or worth > wanted[row.tooling][0]:
                wanted[row.tooling] = worth, i
    if tooled is not None and tooled.tooling not in wanted:
        wanted[tooled.tooling] = tooled.score, tooled.i
    for tooling, (worth, i) in wanted.items():
        long_s = figures.setup_s[tooling]
        if now + long_s > day_end:
            continue
        move = Move(SETUP, tooling=tooling, i=i, start=now)
        late = crowded(going, rule, now + long_s, -1, tooling)
        if rule.again:
            late = max(late, len(in_danger(going, rule, move)))
        score = worth + rule.early - rule.aside * late
        for j in fire:
            if going.row[j].tooling is not None and going.row[j].tooling == going.tooling:
                score -= rule.tool * long_s
        move.score = score
        moves.append(move)
    # Alike pieces have bouts alike: what a bout does to the fire is worked out once.
    lates: dict[int, int] = {}
    best: Move | None = None
    rows, waits, ready = going.row, going.waits, going.ready
    for i in going.live:
        row = rows[i]
        if row.kind != BENCH or waits[i] or ready[i] > now:
            continue
        bout_s = row.bout_s
        if now + bout_s * rule.hard > day_end:
            continue
        if bout_s not in lates:
            lates[bout_s] = crowded(going, rule, now + bout_s * rule.burn, -1, going.tooling)
        score = rule.worth(going, i) + rule.bench - rule.aside * lates[bout_s]
        if every:
            moves.append(Move(BOUT, i=i, start=now, score=score))
        elif best is None or score > best.score:
            best = Move(BOUT, i=i, start=now, score=score)
    if best is not None:
        moves.append(best)
    return moves
