"""What could burn, were a stretch of hand work to take longer than planned."""

from __future__ import annotations

from forgelog.floor.planning.deeds import BOUT, HEAT, SETUP, Move
from forgelog.floor.planning.going import FORGE, NEVER, Going
from forgelog.floor.planning.rule import Rule


def hot_in_time(going: Going, rule: Rule, i: int, close: int) -> bool:
    """Whether it would be hot before the fire closes, with some care."""
    soak_s = going.soak_s(i, going.now)
    return going.now + soak_s + 0.25 * (rule.hard - 1.0) * soak_s <= close


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
