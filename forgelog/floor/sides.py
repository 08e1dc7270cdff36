"""What stands beside the card: the fire, what rests, what is hot, what comes next."""

from __future__ import annotations

from forgelog.floor import card, names
from forgelog.floor.advice import Advice, next_step, rest_left_s
from forgelog.floor.rest_acts import goal_words
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Stand
from forgelog.floor.sums import degc_now, look_s, within_reach
from forgelog.floor.view import FireLine, HotLine, RestLine
from forgelog.recipe.method_words import METHOD_NAMES
from forgelog.recipe.plain import harmless
from forgelog.trade.cooling import BLACK_DEGC, HAND_WARM_DEGC
from forgelog.units import show_clock, show_time
from forgelog.work.cooling_marks import cooling_of
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    in_fire,
    step_of,
)
from forgelog.work.state import FIRE, HAND, State, Workpiece

HOT_LINES = 6
"""Lines of the HOT list; hottest first."""


def fire_title(state: State, held: Workpiece | None) -> str:
    """How full the fire is."""
    if not state.fire.lit:
        return "FIRE out"
    kept = ", a place kept" if held is not None else ""
    return f"FIRE {len(in_fire(state))} of {state.fire.places}{kept}"


def fire_line(
    state: State,
    piece: Workpiece,
    digits: dict[str, int],
    stand: Stand,
    now: Moment,
    settings: FloorSettings,
) -> FireLine:
    """A piece in the fire, and whether to look."""
    gone_s = max(0.0, now.rest_s - piece.since_s)
    return FireLine(
        number=digits.get(piece.id, 0),
        name=harmless(names.short_name(state, piece)),
        clock=show_clock(gone_s),
        look=gone_s >= look_s(state, piece, settings),
        chosen=piece.id == stand.chosen,
    )


def rest_line(
    state: State, piece: Workpiece, digits: dict[str, int], stand: Stand, now: Moment
) -> RestLine:
    """A piece that rests, and how long yet."""
    rest = piece.rest
    assert rest is not None
    left_s = rest_left_s(piece, now)
    own = step_of(state, piece)
    goal = f"to {rest.until}" if rest.degc is not None else rest.until
    if own is not None and own.rest is not None and rest.step:
        goal = goal_words(own.rest)
    if left_s > 0:
        words = f"{goal}, about {show_clock(left_s)} more"
    elif left_s > -60:
        words = "rest about done"
    else:
        words = f"rest done {show_time(-left_s)} ago"
    return RestLine(
        number=digits.get(piece.id, 0),
        name=harmless(names.short_name(state, piece)),
        words=harmless(words),
        due=left_s <= 0,
        chosen=piece.id == stand.chosen,
    )


def hot_lines(
    state: State, digits: dict[str, int], now: Moment, settings: FloorSettings
) -> tuple[HotLine, ...]:
    """What lies about hot, hottest first: fire, hand and a rest that still glows have own lines."""
    found: list[tuple[float, HotLine]] = []
    for workpiece, mark in state.hot.items():
        piece = state.pieces.get(workpiece)
        if piece is None or piece.place in (FIRE, HAND):
            continue
        degc = degc_now(state, workpiece, now)
        if degc <= HAND_WARM_DEGC:
            continue
        curve = cooling_of(mark, state.air_degc)
        until_s = now.rest_s + curve.seconds(degc, within_reach(HAND_WARM_DEGC, state.air_degc))
        looks = "looks black" if degc < BLACK_DEGC else "glows"
        when = clock_time(until_s, settings)
        found.append(
            (
                degc,
                HotLine(
                    number=digits.get(workpiece, 0),
                    name=harmless(names.short_name(state, piece)),
                    words=f"{looks}, hand-warm about {when}",
                ),
            )
        )
    found.sort(key=lambda pair: -pair[0])
    lines = [line for _, line in found[:HOT_LINES]]
    if len(found) > HOT_LINES:
        lines[-1] = HotLine(number=0, name=f"and {len(found) - HOT_LINES + 1} more", words="hot")
    return tuple(lines)


def next_lines(
    state: State, advice: tuple[Advice, ...], settings: FloorSettings
) -> tuple[str, ...]:
    """The first of the advice, in words."""
    lines = []
    for one in advice[:3]:
        piece = state.pieces[one.piece]
        if piece.place == HAND:
            continue
        step = next_step(state, piece)
        do = f", {card.words(step.do, settings)}" if step is not None else ""
        ready = len(names.ready_like(state, piece)) if piece.place == "waiting" else 1
        count = f" ({ready} ready)" if ready > 1 else ""
        lines.append(harmless(f"{names.short_name(state, piece)}{count}{do}: {one.why}"))
    return tuple(lines)


def status_line(state: State, now: Moment, settings: FloorSettings) -> str:
    """Time of day, fire, method, and what was odd about the clock."""
    parts = [
        clock_time(now.rest_s, settings),
        harmless(state.fire.name) if state.fire.lit else "fire out",
        METHOD_NAMES.get(state.method, state.method),
    ]
    if now.mark:
        parts.append(now.mark)
    return " · ".join(parts)


def clock_time(at_s: float, settings: FloorSettings) -> str:
    """The time of day, "14:20"."""
    minutes = int((at_s + settings.local_offset_min * 60) // 60) % (24 * 60)
    return f"{minutes // 60:02}:{minutes % 60:02}"
