"""The view of the floor at one moment: every word that the screen lays out."""

from __future__ import annotations

from typing import Any

from forgelog.floor import card, names
from forgelog.floor.advice import advise, next_step, rest_left_s
from forgelog.floor.alarms import alarms
from forgelog.floor.figures import clock_of, heats_of
from forgelog.floor.keys import all_finished, keys
from forgelog.floor.lists import open_list
from forgelog.floor.meaning import LAPSE_S, hurry, lapsed
from forgelog.floor.numbers import numbered
from forgelog.floor.rest_acts import goal_words
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sides import (
    fire_line,
    fire_title,
    hot_lines,
    next_lines,
    rest_line,
    status_line,
)
from forgelog.floor.stand import BACKSPACE, ELSE, ENTER, SPACE, TAB, Stand
from forgelog.floor.view import KeyLine, ListView, View
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Step
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
from forgelog.work.state import HAND, RESTING, SCRAPPED, State, Workpiece


def view(state: State, stand: Stand, now: Moment, settings: FloorSettings) -> View:
    """What the floor shows now.

    Args:
        state: What stands.
        stand: Where the smith stands at the screen.
        now: Shop time.
        settings: Of this floor.
    """
    state = settle(state, now)
    advice = advise(state, now, settings)
    meanings = keys(state, stand, now, settings, advice=advice)
    held = in_hand(state)
    piece = held or (None if stand.chosen == ELSE else state.pieces.get(stand.chosen))
    finished = bool(state.pieces) and all_finished(state) and stand.chosen != ELSE
    parts = _finished_card(state) if finished else _card(state, stand, piece, now, settings)
    asking = stand.asking
    if asking is not None and lapsed(asking, now, settings):
        parts["message"] = "the question has lapsed: nothing was done"
        asking = None
    rings = alarms(state, now, settings)
    digits = {w: i + 1 for i, w in enumerate(numbered(state, now))}
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
        fire_title=fire_title(state, held),
        fire=tuple(fire_line(state, p, digits, stand, now, settings) for p in in_fire(state)),
        resting=tuple(rest_line(state, p, digits, stand, now) for p in resting(state)),
        hot=hot_lines(state, digits, now, settings),
        next=next_lines(state, advice, settings),
        status=status_line(state, now, settings),
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
            "TAB leads to something else; BACKSPACE takes the last press back.",
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
    # A rest that is done is behind the piece: its card is that of the step to come.
    rests = piece.place == RESTING and (step is None or rest_left_s(piece, now) > 0)
    passed = piece.place == RESTING and not rests and piece.rest is not None and piece.rest.step
    index = min(piece.step + (2 if passed else 1), len(steps))
    parts: dict[str, Any] = {
        "order": harmless(f"{letter} {recipe.name.upper()} · {order.title}".strip(" ·")),
        "piece": harmless(names.card_name(state, piece)),
        "progress": f"step {index} of {len(steps)}" if steps else "",
        **_verb(state, piece, step, settings, rests=rests),
    }
    if step is not None:
        lines = (
            card.help_lines(step, settings)
            if stand.verb_help
            else card.step_lines(state, piece, step, settings)
        )
        if rests and not stand.verb_help:
            lines = _rest_card(state, piece, step, settings)
        parts["lines"] = lines
        parts.update(heats_of(state, piece, step, settings))
    else:
        parts["lines"] = _end_lines(state, piece)
    parts.update(clock_of(state, piece, step, now, settings))
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
    state: State, piece: Workpiece, step: Step | None, settings: FloorSettings, *, rests: bool
) -> dict[str, Any]:
    if rests and piece.rest is not None:
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
    verb = card.words(names.step_title(step), settings).upper()
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
