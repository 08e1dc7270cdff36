"""The cooling and heating of the very piece: how hot it is, how long its heat lasts, when to look.

All are predictions of a model for a long bar of the section, shown as "about".
"""

from __future__ import annotations

from forgelog.floor.settings import FloorSettings
from forgelog.recipe.resolved import RestGoal, Step
from forgelog.trade.cooling import cooling_curve
from forgelog.trade.heating import look_s as look_after_s
from forgelog.trade.sections import Section
from forgelog.work.cooling_marks import UNKNOWN_SECTION, degc_of
from forgelog.work.facts import Hot
from forgelog.work.moments import Moment
from forgelog.work.queries import component_of, step_of
from forgelog.work.state import State, Workpiece

START_DEGC = 1150.0
"""Where a recipe gives no heat to start from. Common practice for mild steel."""
STOP_DEGC = 850.0
"""Where a recipe gives no heat to stop at. Common practice for mild steel."""
REST_MEDIA = {"still air", "draught", "bed"}


def section_of(state: State, piece: Workpiece, step: Step | None = None) -> Section:
    """The section that matters for its heat: of the step, else of its stock."""
    step = step or step_of(state, piece)
    if step is not None and step.section is not None:
        return step.section
    stock = component_of(state, piece).stock
    return stock.section if stock is not None else UNKNOWN_SECTION


def heat_of(step: Step) -> float:
    """The heat at which the piece leaves the fire for this step, degC."""
    if step.at_degc is not None:
        return step.at_degc
    return step.start_degc if step.start_degc is not None else START_DEGC


def stop_of(step: Step) -> float:
    """Where work on this step has to stop, degC."""
    return step.stop_degc if step.stop_degc is not None else STOP_DEGC


def degc_now(state: State, workpiece: str, now: Moment) -> float:
    """How hot the piece should be by the sum, degC; the air's heat when it was never hot."""
    mark = state.hot.get(workpiece)
    if mark is None:
        return state.air_degc
    return degc_of(mark, now.rest_s, state.air_degc)


def hot_from_fire(state: State, piece: Workpiece, step: Step) -> Hot:
    """What leaves the fire: at the step's heat, cooling under the hammer."""
    return Hot(degc=heat_of(step), section=section_of(state, piece, step), medium=state.method)


def hot_laid_down(state: State, piece: Workpiece, now: Moment, medium: str = "still air") -> Hot:
    """What is laid aside now, cooling in still air from what the sum says it has left."""
    degc = round(degc_now(state, piece.id, now), 1)
    return Hot(degc=degc, section=section_of(state, piece), medium=medium)


def whole_heat_s(state: State, piece: Workpiece, step: Step) -> float:
    """Seconds from the step's heat to where work has to stop, with the present method."""
    start, stop = heat_of(step), stop_of(step)
    if start <= stop:
        return 0.0
    curve = cooling_curve(section_of(state, piece, step), state.method, state.air_degc)
    return curve.seconds(start, stop)


def heat_left(state: State, piece: Workpiece, step: Step, now: Moment) -> tuple[float, float]:
    """Seconds of working heat left, and its share of the whole (1 to 0).

    The section worked is taken; a thin end or a short heat is gone sooner.
    """
    whole_s = whole_heat_s(state, piece, step)
    curve = cooling_curve(section_of(state, piece, step), state.method, state.air_degc)
    stop = stop_of(step)
    here = degc_now(state, piece.id, now)
    left_s = curve.seconds(here, stop) if here > stop else 0.0
    return left_s, min(1.0, left_s / whole_s) if whole_s > 0 else 0.0


def look_s(state: State, piece: Workpiece, settings: FloorSettings) -> float:
    """Seconds in the fire after which the piece wants looking at.

    Never "ready": only the eye judges a heat.
    """
    step = step_of(state, piece)
    if step is None:
        return 0.0
    if settings.look_s is not None:
        return settings.look_s
    section = section_of(state, piece, step)
    put_in = Moment(rest_s=piece.since_s)
    start = degc_now(state, piece.id, put_in)
    look = look_after_s(section, start, heat_of(step), state.fire.kind)
    return look + (step.soak_s or 0.0)


def needed_s(section: Section, start_degc: float, goal: RestGoal, air_degc: float) -> float:
    """Seconds that a rest needs by the sum, or the minutes that the recipe asks for."""
    if goal.seconds is not None:
        return goal.seconds
    target = within_reach(goal.degc if goal.degc is not None else 480.0, air_degc)
    if start_degc <= target:
        return 0.0
    medium = goal.medium if goal.medium in REST_MEDIA else "bed"
    return cooling_curve(section, medium, air_degc).seconds(start_degc, target)


def within_reach(degc: float, air_degc: float) -> float:
    """The end of a rest: a little above the air at the lowest, or the sum never gets there."""
    return max(degc, air_degc + 2.0)
