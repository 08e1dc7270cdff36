"""Work without a recipe: the lists that ask what a step was, and write it down."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import msgspec

from forgelog.floor import acts, rest_acts
from forgelog.floor.choices import Choice, Facts, Made, piece_of
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.recipe.resolve import ResolveError, resolve
from forgelog.recipe.resolved import Step
from forgelog.recipe.written import WrittenRecipe
from forgelog.trade.sections import write_section
from forgelog.trade.steels import find_grade
from forgelog.units import show_temperature
from forgelog.work.apply import happened
from forgelog.work.facts import HeatEndedEarlier, StepSaid
from forgelog.work.moments import Moment
from forgelog.work.queries import component_of, recipe_of
from forgelog.work.state import State, Workpiece

FORGED = (
    *("draw down", "point", "taper", "set down", "set down a tenon", "upset", "bend"),
    *("roll the eye", "scroll", "twist", "punch", "slit and drift", "cut hot", "flatten"),
    *("spread", "fuller", "swage", "chase", "close the collar", "forge weld", "rivet over hot"),
    "straighten",
)
"""What is done at the anvil, in the trade's words."""

COLD = {
    "saw": "bench",
    "mark out": "bench",
    "file": "bench",
    "drill": "bench",
    "cut the thread": "bench",
    "grind": "bench",
    "rivet cold": "bench",
    "fit": "fit",
    "finish with oil": "finish",
}
"""What is done cold, with the kind of step that it is."""

USUAL_BAR = "12 mm square"
"""For a component that is cut from no bar."""
RESTS = ("black", "hand-warm", "cold")

THAT_IS_ALL = "nothing more: it is finished"


def said(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """A piece in hand: what was done in these heats. The last that was said comes first.

    The heat was over when the list was opened: looking for the word is no work.
    """
    piece = piece_of(listing, state)
    late_s = max(0.0, now.work_s - float(listing.detail or now.work_s))
    step = _open(state, piece)
    names = {s.id: s.do for s in component_of(state, piece).steps}
    usual = [do for record in piece.done[-1:] if (do := names.get(record.step)) in FORGED]
    return "done: what was it?", tuple(
        Choice(words=words, facts=_finished_as(state, piece, step, words, now, late_s, settings))
        for words in dict.fromkeys((*filter(None, usual), *FORGED))
    )


def next_said(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """A piece that lies there: a rest, cold work, a heat treatment, or nothing more."""
    piece = piece_of(listing, state)
    return "what comes now?", tuple(_next(state, piece, now, settings))


def _open(state: State, piece: Workpiece) -> Step:
    """The open step of its component; a piece that rests stands before it."""
    return next(step for step in component_of(state, piece).steps if step.open)


def _finished_as(
    state: State,
    piece: Workpiece,
    step: Step,
    words: str,
    now: Moment,
    late_s: float,
    settings: FloorSettings,
) -> Facts:
    """What it was, that it is done, and the heats that the next piece may plan on.

    The first piece has no plan: what it took is not measured against itself.
    """
    first = _step(state, piece, step.id, words, "forge")
    if first is None:
        return ()
    named = StepSaid(workpiece=piece.id, step=first)
    after = happened(state, (named,))
    then = msgspec.structs.replace(now, rest_s=now.rest_s - late_s, work_s=now.work_s - late_s)
    done = acts.finish(after, after.pieces[piece.id], then, settings)
    if late_s >= acts.TOO_SHORT_S:
        done = (*done, HeatEndedEarlier(workpiece=piece.id, seconds=round(late_s, 1)))
    record = happened(after, done).pieces[piece.id].done[-1]
    if not record.heats:
        return (named, *done)
    planned = msgspec.structs.replace(first, heats={record.method: record.heats})
    return (named, *done, StepSaid(workpiece=piece.id, step=planned))


def _next(state: State, piece: Workpiece, now: Moment, settings: FloorSettings) -> Iterator[Choice]:
    step = _open(state, piece)
    for until in RESTS:
        rest = _step(state, piece, step.id, "rest", "rest", until=until)
        if rest is not None:
            yield Choice(words=f"let it rest: {until}", facts=_rested(state, piece, rest, now))
    if piece.done:
        rest_over = rest_acts.rest_over(state, piece, now)
        yield Choice(words=THAT_IS_ALL, facts=(*rest_over, StepSaid(workpiece=piece.id)))
    for words, kind in COLD.items():
        cold = _step(state, piece, step.id, words, kind)
        if cold is not None:
            named = StepSaid(workpiece=piece.id, step=cold)
            after = happened(state, (named,))
            begun = acts.begin_cold(after, after.pieces[piece.id], now)
            yield Choice(words=words, facts=(named, *begun))
    for treated in _treatments(state, piece, step.id):
        words = f"{treated.do}, about {show_temperature(treated.at_degc or 0.0, settings.units)}"
        yield Choice(words=words, facts=(StepSaid(workpiece=piece.id, step=treated),))


def _rested(state: State, piece: Workpiece, rest: Step, now: Moment) -> Facts:
    named = StepSaid(workpiece=piece.id, step=rest)
    after = happened(state, (named,))
    return (named, *rest_acts.lay_to_rest(after, after.pieces[piece.id], now))


def _treatments(state: State, piece: Workpiece, step_id: str) -> Iterator[Step]:
    """The treatments that this steel stands, at the middle of what the sources say."""
    grade = find_grade(recipe_of(state, piece).steel)
    if grade is None or not grade.hardenable:
        return
    spans = {"normalise": grade.normalise, "harden": grade.harden, "temper": grade.temper}
    for kind, span in spans.items():
        if span is None or (kind == "normalise" and grade.air_hardening):
            continue
        more = {"at": f"{round((span.low + span.high) / 2)} degC"}
        if kind == "harden" and grade.quench:
            more["quench"] = grade.quench[0]
        step = _step(state, piece, step_id, kind, kind, **more)
        if step is not None:
            yield step


def _step(
    state: State, piece: Workpiece, step_id: str, do: str, kind: str, **more: str
) -> Step | None:
    """The step as a recipe would have it, with the steel's own heats; None where it cannot be.

    Args:
        state: What stands.
        piece: The piece.
        step_id: Id of the open step, which it takes.
        do: What is done.
        kind: Kind of the step.
        more: Further keys of the recipe: `until` of a rest, `at` and `quench` of a treatment.
    """
    stock = component_of(state, piece).stock
    section = write_section(stock.section) if stock else USUAL_BAR
    keys = (("do", do), ("done", f"{do} done"), ("kind", kind), *more.items())
    step = _resolved(recipe_of(state, piece).steel, section, keys)
    return msgspec.structs.replace(step, id=step_id) if step is not None else None


@lru_cache(maxsize=512)
def _resolved(steel: str, section: str, keys: tuple[tuple[str, str], ...]) -> Step | None:
    """Out of a recipe with this one step; lists are made anew at every look, so it is kept."""
    step: dict[str, object] = dict(keys)
    if step["kind"] == "forge":
        step["heats"] = {"hand": 1}  # a forging step has some; how many is not known yet
    stock = {"section": section, "cut": "100 mm"}
    component = {"id": "piece", "name": "piece", "stock": stock, "step": [step]}
    recipe = {"format": 1, "id": "free-work", "name": "free work", "steel": steel}
    try:
        written = msgspec.convert(recipe | {"component": [component]}, WrittenRecipe)
        (made,) = resolve(written).components[0].steps
    except (ResolveError, ValueError):
        return None
    return msgspec.structs.replace(made, heats={})
