"""The view of the floor at one moment: every word that the screen lays out."""

from __future__ import annotations

from typing import Any

from forgelog.floor import card, names
from forgelog.floor.acts import goal_words
from forgelog.floor.advice import advise, next_step, rest_left_s
from forgelog.floor.alarms import alarms
from forgelog.floor.keys import all_finished, keys
from forgelog.floor.lists import open_list
from forgelog.floor.meaning import LAPSE_S, hurry, lapsed
from forgelog.floor.numbers import numbered
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import BACKSPACE, ELSE, ENTER, SPACE, TAB, Stand
from forgelog.floor.sums import UNKNOWN_SECTION, degc_now, heat_left, look_s
from forgelog.floor.view import FireLine, HotLine, KeyLine, ListView, RestLine, View
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Step
from forgelog.trade.cooling import BLACK_DEGC, HAND_WARM_DEGC, cooling_curve
from forgelog.units import show_clock, show_time
from forgelog.work.apply import settle
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    in_fire,
    in_hand,
    recipe_of,
    resting,
    step_of,
    steps_of,
)
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, SCRAPPED, State, Workpiece

METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "power hammer",
    "press": "press",
}
HOT_LINES = 6
"""Lines of the HOT list; hottest first."""


def view(state: State, stand: Stand, now: Moment, settings: FloorSettings) -> View:
    """What the floor shows now.

    Args:
        state: What stands.
        stand: Where the smith stands at the screen.
        now: Shop time.
        settings: Of this floor.
    """
    state = settle(state, now)
    meanings = keys(state, stand, now, settings)
    held = in_hand(state)
    piece = held or (None if stand.chosen == ELSE else state.pieces.get(stand.chosen))
    finished = bool(state.pieces) and all_finished(state)
    parts = _finished_card(state) if finished else _card(state, stand, piece, now, settings)
    asking = stand.asking
    if asking is not None and lapsed(asking, now, settings):
        parts["message"] = "the question has lapsed: nothing was done"
        asking = None
    rings = alarms(state, now, settings)
    digits = {w: i + 1 for i, w in enumerate(numbered(state))}
    listing = None
    if stand.listing is not None:
        made = open_list(stand.listing, state, now, settings)
        listing = ListView(
            title=harmless(made.title),
            choices=tuple(harmless(c.words) for c in made.choices),
            at=min(stand.listing.at, len(made.choices) - 1),
        )
    message = harmless(str(parts.pop("message", "") or stand.message))
    return View(
        **parts,
        done_words=harmless(stand.done_words),
        message=message,
        question=harmless(asking.words) if asking else "",
        question_left_s=max(0.0, LAPSE_S - (now.rest_s - asking.at_s) / hurry(settings))
        if asking
        else None,
        list=listing,
        entry=_entry_words(stand),
        far=stand.far,
        fire_title=_fire_title(state, held),
        fire=tuple(_fire_line(state, p, digits, stand, now, settings) for p in in_fire(state)),
        resting=tuple(_rest_line(state, p, digits, stand, now) for p in resting(state)),
        hot=_hot_lines(state, digits, now, settings),
        next=_next_lines(state, now, settings),
        status=_status(state, now, settings),
        keys=tuple(
            KeyLine(key=key.upper(), words=harmless(meanings[key].words), live=meanings[key].live)
            for key in (SPACE, ENTER, TAB, BACKSPACE)
        ),
        alarms=tuple(harmless(a.words) for a in rings),
        rings=tuple(a.id for a in rings if a.id not in stand.quiet),
        paused=state.paused,
        practice=f"PRACTICE x{settings.practice:g}" if settings.practice else "",
        finished=finished,
        leave=stand.leave,
    )


def _entry_words(stand: Stand) -> str:
    if not stand.entry:
        return ""
    return "size, with its unit" if stand.entry.startswith("size:") else stand.entry


def _finished_card(state: State) -> dict[str, Any]:
    orders = [o for o in state.orders.values() if o.pins and o.closed is None]
    many = len(orders) > 1
    return {
        "order": " · ".join(harmless(o.title or o.label) for o in orders),
        "piece": "",
        "progress": "",
        "verb": "THE ORDERS ARE FINISHED" if many else "THE ORDER IS FINISHED",
        "verb_short": "FINISHED",
        "lines": (
            "ENTER ends the session and goes home; the review waits there.",
            "TAB looks at a piece or opens something else; BACKSPACE takes the last press back.",
            "Black is not cold: see what is hot before you tidy up.",
        ),
    }


def _card(
    state: State, stand: Stand, piece: Workpiece | None, now: Moment, settings: FloorSettings
) -> dict[str, Any]:
    if piece is None:
        return _else_card(state)
    order = state.orders[piece.order]
    recipe = recipe_of(state, piece)
    letter = names.letters(state).get(piece.order, "")
    step = next_step(state, piece) if piece.place == RESTING else step_of(state, piece)
    steps = steps_of(state, piece)
    index = min(piece.step + 1, len(steps))
    parts: dict[str, Any] = {
        "order": harmless(f"{letter} {recipe.name.upper()} · {order.title}".strip(" ·")),
        "piece": harmless(names.card_name(state, piece)),
        "progress": f"step {index} of {len(steps)}" if steps else "",
        **_verb(state, piece, step, settings),
    }
    if step is not None:
        lines = (
            card.help_lines(step, settings)
            if stand.verb_help
            else card.step_lines(state, piece, step, settings)
        )
        if piece.place == RESTING and piece.rest is not None:
            lines = _rest_card(state, piece, step, settings)
        parts["lines"] = lines
        parts.update(_heats(state, piece, step, settings))
    else:
        parts["lines"] = _end_lines(state, piece)
    parts.update(_clock(state, piece, step, now, settings))
    return parts


def _else_card(state: State) -> dict[str, Any]:
    orders = [o for o in state.orders.values() if o.pins and o.closed is None]
    return {
        "order": harmless(orders[0].title or orders[0].label) if len(orders) == 1 else "",
        "piece": "",
        "progress": "",
        "verb": "SOMETHING ELSE",
        "verb_short": "ELSE",
        "lines": (
            "Pause; put right what was pressed wrongly; a step that is not done after all;",
            "trouble with a cold piece; a size, a note, another method; the end of the day.",
        ),
    }


def _verb(
    state: State, piece: Workpiece, step: Step | None, settings: FloorSettings
) -> dict[str, Any]:
    if piece.place == RESTING and piece.rest is not None:
        where = harmless(piece.rest.until).upper()
        return {
            "verb": f"REST TO {where}" if piece.rest.degc else f"REST {where}",
            "verb_short": "REST",
        }
    if step is None:
        word = "SCRAPPED" if piece.place == SCRAPPED else "FINISHED"
        return {"verb": word, "verb_short": word}
    if piece.place == HAND and piece.open is not None and piece.open.quench:
        return {"verb": f"QUENCH IN {harmless(piece.open.quench).upper()}", "verb_short": "QUENCH"}
    verb = card.words(step.do, settings).upper()
    if step.cycles > 1:
        verb = f"{verb}, {step.cycle} OF {step.cycles}"
    return {"verb": verb, "verb_short": harmless(names.verb_short(step))}


def _rest_card(
    state: State, piece: Workpiece, then: Step, settings: FloorSettings
) -> tuple[str, ...]:
    rest = piece.rest
    assert rest is not None
    own = step_of(state, piece)
    lines = []
    if own is not None and own.rest is not None and rest.step:
        if own.rest.why:
            lines.append(card.words(own.rest.why, settings))
        lines.append(f"{goal_words(own.rest)}, then: {card.words(then.do, settings)}")
    else:
        lines.append(f"then: {card.words(then.do, settings)}")
    lines.append("Black is not cold: the back of the hand near it, or a drop of water, decides.")
    return tuple(lines)


def _end_lines(state: State, piece: Workpiece) -> tuple[str, ...]:
    if piece.place == SCRAPPED:
        return (f"scrapped: {harmless(piece.scrapped_why)}",)
    if piece.fitted_in:
        return ("it is part of an assembly now",)
    where = f"it lies {harmless(piece.where)}" if piece.where else ""
    return tuple(line for line in ("all its steps are done", where) if line)


def _heats(state: State, piece: Workpiece, step: Step, settings: FloorSettings) -> dict[str, Any]:
    if piece.lot and step.kind != "rest":
        words = f"{piece.counted} of {piece.lot} done"
        if step.kind != "forge":
            return {"heats": words}
    if step.kind != "forge":
        if step.minutes_s:
            return {"heats": f"about {show_time(step.minutes_s)}"}
        return {}
    number = piece.heats + (1 if piece.place == HAND else 0)
    number = max(1, number if piece.place == HAND else piece.heats + 1)
    recipe = recipe_of(state, piece)
    learnt = settings.learnt.get((recipe.id, piece.component, step.id, state.method))
    planned = learnt.heats if learnt is not None else _planned(step, state.method)
    if planned is None:
        return {"heats": f"heat {number}"}
    more = f", {piece.counted} of {piece.lot} done" if piece.lot else ""
    from_words = ""
    if learnt is not None:
        from_words = f"{learnt.low} to {learnt.high} most often, from {learnt.records} of yours"
    return {"heats": f"heat {number} of about {planned}{more}", "heats_from": from_words}


def _planned(step: Step, method: str) -> int | None:
    """The recipe's plan for the method; a striker or press without one goes by the nearest."""
    for name in (method, {"striker": "hand", "press": "power"}.get(method, ""), "hand", "power"):
        if name in step.heats:
            return step.heats[name]
    return None


def _clock(
    state: State, piece: Workpiece, step: Step | None, now: Moment, settings: FloorSettings
) -> dict[str, Any]:
    gone_s = max(0.0, now.rest_s - piece.since_s)
    if piece.place == HAND and piece.open is not None:
        parts: dict[str, Any] = {
            "clock": show_clock(gone_s),
            "clock_words": "in hand",
        }
        if step is not None and step.kind in ("forge", "gauge") and not piece.open.quench:
            left_s, share = heat_left(state, piece, step, now)
            parts["heat_left_share"] = share
            parts["heat_left"] = (
                f"about {left_s:.0f} s of heat left" if left_s > 0 else "the heat is about gone"
            )
        return parts
    if piece.place == FIRE:
        look = look_s(state, piece, settings) - gone_s
        words = (
            "in the fire: LOOK" if look <= 0 else f"in the fire, look in about {show_time(look)}"
        )
        return {"clock": show_clock(gone_s), "clock_words": words}
    if piece.place == RESTING:
        left_s = rest_left_s(piece, now)
        if left_s > 0:
            return {"clock": show_clock(left_s), "clock_words": "of rest left, about"}
        return {"clock": show_clock(-left_s), "clock_words": "since the rest was done"}
    if piece.place == BENCH:
        worked_s = piece.work_s + (now.work_s - piece.bench_work_s if piece.running else 0.0)
        words = "at the bench" if piece.running else "at the bench, stopped"
        return {"clock": show_clock(worked_s), "clock_words": words}
    if piece.place == "waiting" and piece.where:
        return {"clock_words": f"lies {harmless(piece.where)}"}
    return {}


def _fire_title(state: State, held: Workpiece | None) -> str:
    if not state.fire.lit:
        return "FIRE out"
    kept = ", a place kept" if held is not None else ""
    return f"FIRE {len(in_fire(state))} of {state.fire.places}{kept}"


def _fire_line(
    state: State,
    piece: Workpiece,
    digits: dict[str, int],
    stand: Stand,
    now: Moment,
    settings: FloorSettings,
) -> FireLine:
    gone_s = max(0.0, now.rest_s - piece.since_s)
    return FireLine(
        number=digits.get(piece.id, 0),
        name=harmless(names.short_name(state, piece)),
        clock=show_clock(gone_s),
        look=gone_s >= look_s(state, piece, settings),
        chosen=piece.id == stand.chosen,
    )


def _rest_line(
    state: State, piece: Workpiece, digits: dict[str, int], stand: Stand, now: Moment
) -> RestLine:
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


def _hot_lines(
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
        curve = cooling_curve(mark.section or UNKNOWN_SECTION, mark.medium, state.air_degc)
        until_s = now.rest_s + curve.seconds(degc, max(HAND_WARM_DEGC, state.air_degc + 2.0))
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


def clock_time(at_s: float, settings: FloorSettings) -> str:
    """The time of day, "14:20"."""
    minutes = int((at_s + settings.local_offset_min * 60) // 60) % (24 * 60)
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _next_lines(state: State, now: Moment, settings: FloorSettings) -> tuple[str, ...]:
    lines = []
    for advice in advise(state, now, settings)[:3]:
        piece = state.pieces[advice.piece]
        if piece.place == HAND:
            continue
        step = next_step(state, piece)
        do = f", {card.words(step.do, settings)}" if step is not None else ""
        ready = len(names.ready_like(state, piece)) if piece.place == "waiting" else 1
        count = f" ({ready} ready)" if ready > 1 else ""
        lines.append(harmless(f"{names.short_name(state, piece)}{count}{do}: {advice.why}"))
    return tuple(lines)


def _status(state: State, now: Moment, settings: FloorSettings) -> str:
    parts = [
        clock_time(now.rest_s, settings),
        harmless(state.fire.name) if state.fire.lit else "fire out",
        METHOD_WORDS.get(state.method, state.method),
    ]
    if now.mark:
        parts.append(now.mark)
    return " · ".join(parts)
