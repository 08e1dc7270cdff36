"""The guarded rule: from the problem and what has happened to the next deed.

Before any stretch of hand work it asks what could burn meanwhile, were the stretch to take longer
than planned, and lays that aside first. Pieces go into the fire only if all in it can be drawn in
time; a set-up counts in that. The longest chain goes first. No chance, no clock: the same present
gives the same deed.
"""

from __future__ import annotations

from forgelog.floor.planning.going import BENCH, FORGE, NEVER, TREAT, Going
from forgelog.floor.planning.rule import Rule

PUT, HEAT, BOUT, PART, SETUP, ASIDE, SCRAP, WAIT = DEEDS = (
    "put",
    "heat",
    "bench",
    "treat",
    "setup",
    "aside",
    "scrap",
    "wait",
)
SOON_S = 5
"""When a piece whose time is up is not hot yet: look again so soon."""

FRUITLESS = 15
"""After so many lay-asides and set-ups with nothing worked, one piece is worked by itself."""
BURNT = 3
"""What was burnt so often burns again in company: until it is done, one piece goes by itself."""


class Move:
    """One deed: of a component, or a set-up, or waiting until a moment at the latest."""

    __slots__ = ("asides", "do", "i", "score", "start", "tooling", "until")

    def __init__(
        self,
        do: str,
        *,
        i: int = -1,
        tooling: str = "",
        until: int = 0,
        start: int = 0,
        score: float = 0.0,
    ) -> None:
        self.do = do
        self.i = i
        self.tooling = tooling
        self.until = until
        """Of a wait."""
        self.start = start
        """When it can begin."""
        self.score = score
        self.asides: list[int] = []
        """To be laid aside before it, or they may burn."""


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
        if row.kind == FORGE and opens <= now and _hot_in_time(going, rule, i, close):
            if row.tooling in (None, going.tooling):
                return Move(PUT, i=i, start=now)
            if now + figures.setup_s[row.tooling or ""] <= day_end:
                return Move(SETUP, i=i, tooling=row.tooling or "", start=now)
        if row.kind == BENCH and now + row.bout_s * rule.hard <= day_end:
            return Move(BOUT, i=i, start=now)
    treat = best_treat(going, rule, close)
    return treat if treat is not None else Move(WAIT, until=next_event(going))


def _hot_in_time(going: Going, rule: Rule, i: int, close: int) -> bool:
    """Whether it would be hot before the fire closes, with some care."""
    soak_s = going.soak_s(i, going.now)
    return going.now + soak_s + 0.25 * (rule.hard - 1.0) * soak_s <= close


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


def _hand_s(move: Move, going: Going) -> int:
    if move.do == HEAT:
        return going.row[move.i].hand_s
    if move.do == BOUT:
        return going.row[move.i].bout_s
    if move.do == SETUP:
        return going.figures.setup_s[move.tooling]
    return 0


def in_danger(going: Going, rule: Rule, move: Move) -> list[int]:
    """What has to leave the fire before this stretch begins."""
    close = going.now - going.now % going.figures.day_s + going.figures.close_s
    long_s = _hand_s(move, going)
    careful_s = long_s if move.do == SETUP else long_s * rule.burn
    hard_s = long_s if move.do == SETUP else long_s * rule.hard
    found = []
    for j in going.fire:
        if j == move.i and move.do == HEAT:
            continue
        burns: float = going.burns(j)
        if move.do == SETUP:
            burns -= _soon_s(going, rule, j)
        if burns < going.now + careful_s or close < going.now + hard_s:
            found.append(j)
    return found


def _soon_s(going: Going, rule: Rule, j: int) -> float:
    """By how much sooner than planned a piece in the fire may be hot, and then burnt."""
    return 0.0 if going.seen[j] else (1.0 - rule.soon) * (going.hot[j] - going.put[j])


def crowded(going: Going, rule: Rule, clock: float, skip: int, tooling: str | None) -> int:
    """How many of the pieces in the fire cannot be drawn in time, hands being free at `clock`.

    The first to burn is drawn first; a tooling that it wants is set up before. A set-up cannot be
    broken off, so it has to fit even where the piece is hot sooner than planned.
    """
    queue = [
        (going.hot[j] + going.row[j].hold_s, going.hot[j], going.row[j], j)
        for j in going.fire
        if j != skip
    ]
    if not queue:
        return 0
    if len(queue) > 1:
        queue.sort(key=_burns)
    late = 0
    care = rule.put_care
    for burns, hot, row, j in queue:
        start = clock
        if row.tooling is not None and row.tooling != tooling:
            start += going.figures.setup_s[row.tooling]
            if start > burns - _soon_s(going, rule, j):
                late += 1
                continue
        if start < hot:
            start = hot
        if start > burns:
            late += 1
            continue
        if row.tooling is not None:
            tooling = row.tooling
        clock = start + row.hand_s * care
    return late


PRESS_S = 5
"""From one stretch of hand work to the next: to take a piece out and lay another in."""


def in_turn(going: Going, rule: Rule) -> bool:
    """Whether each piece in the fire can be worked and put back, turn by turn, and none burns.

    From one heat of a piece to its next, every other in the fire has one.
    """
    rows = [_longest(going, j) for j in going.fire]
    whole_s = sum(hand_s * rule.again + PRESS_S for hand_s, _ in rows)
    return all(whole_s - hand_s * rule.again <= lasts_s for hand_s, lasts_s in rows)


def _longest(going: Going, i: int) -> tuple[int, int]:
    """The longest heat that a piece has before it leaves the fire, and the shortest time that it
    may be in there."""
    hand_s, lasts_s = 0, NEVER
    for row in going.figures.rows[i][going.step[i] :]:
        if row.kind != FORGE or row.tooling not in (None, going.tooling):
            break
        hand_s = max(hand_s, row.hand_s)
        lasts_s = min(lasts_s, row.reheat_s + row.hold_s)
    if lasts_s == NEVER:
        row = going.row[i]
        return row.hand_s, row.reheat_s + row.hold_s
    return hand_s, lasts_s


def _burns(entry: tuple[int, int, object, int]) -> int:
    return entry[0]


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
        if lit and not (changes and rule.again) and _hot_in_time(going, rule, i, close):
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
