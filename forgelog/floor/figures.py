"""The card's figures: which heat of how many, and the running time."""

from __future__ import annotations

from typing import Any

from forgelog.floor.advice import rest_left_s
from forgelog.floor.settings import FloorSettings
from forgelog.floor.sums import heat_left, look_s
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import Step
from forgelog.units import show_clock, show_time
from forgelog.work.changes import run_number
from forgelog.work.moments import Moment
from forgelog.work.queries import (
    recipe_of,
)
from forgelog.work.state import BENCH, FIRE, HAND, RESTING, State, Workpiece

LONG_S = 3 * 3600.0
"""A rest that has been done for longer is said in words: nobody times it any more."""


def heats_of(state: State, piece: Workpiece, step: Step, settings: FloorSettings) -> dict[str, Any]:
    """Which heat of how many, and whose number that is; the planned time of cold work."""
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
    run = run_number(state, piece, step.id) if learnt is not None else 0
    planned = learnt.at(run)[0] if learnt is not None else _planned(step, state.method)
    if planned is None:
        return {"heats": f"heat {number}"}
    more = f", {piece.counted} of {piece.lot} done" if piece.lot else ""
    from_words = learnt.from_words(run) if learnt is not None else ""
    return {"heats": f"heat {number} of about {planned}{more}", "heats_from": from_words}


def _planned(step: Step, method: str) -> int | None:
    """The recipe's plan for the method; a striker or press without one goes by the nearest."""
    for name in (method, {"striker": "hand", "press": "power"}.get(method, ""), "hand", "power"):
        if name in step.heats:
            return step.heats[name]
    return None


def clock_of(
    state: State, piece: Workpiece, step: Step | None, now: Moment, settings: FloorSettings
) -> dict[str, Any]:
    """The running time of the card: in hand, in the fire, resting, at the bench."""
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
        if -left_s > LONG_S:
            return {"clock_words": f"rest done {show_time(-left_s)} ago"}
        return {"clock": show_clock(-left_s), "clock_words": "since the rest was done"}
    if piece.place == BENCH:
        worked_s = piece.work_s + (now.work_s - piece.bench_work_s if piece.running else 0.0)
        words = "at the bench" if piece.running else "at the bench, stopped"
        return {"clock": show_clock(worked_s), "clock_words": words}
    if piece.place == "waiting" and piece.where:
        return {"clock_words": f"lies {harmless(piece.where)}"}
    return {}
