"""The list behind "something else", and the lists it opens."""

from __future__ import annotations

from forgelog.floor import acts, day_acts, rest_acts
from forgelog.floor.advice import wants_heat
from forgelog.floor.blocks import TEST_PIECE, steel_known
from forgelog.floor.choices import Choice, Made, to
from forgelog.floor.names import short_name, step_title
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.floor.sums import hot_laid_down, needed_s, section_of
from forgelog.recipe.resolved import HEAT_KINDS, RestGoal
from forgelog.work.facts import (
    DayEnded,
    FireLit,
    HeatEndedEarlier,
    HeatsCorrected,
    JudgedBy,
    LaidAside,
    Noted,
    Redone,
    RestStarted,
    StepReopened,
    ToolSeen,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import live, step_of, steps_of
from forgelog.work.state import (
    FIRE,
    FITTED,
    HAND,
    SCRAPPED,
    WAITING,
    Order,
    State,
    Workpiece,
)

PLACES_TO_LIE = ("on the bench", "beside the fire", "box 1", "box 2", "box 3", "on the rack")
JUDGES = ("eye", "magnet", "thermocouple", "oven")
EXTRA_RESTS = (("black", 480.0), ("hand-warm", 45.0))


def reopen(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """The last steps that were finished, newest first; opened again with their heats."""
    found = []
    for piece in state.pieces.values():
        if piece.place in (SCRAPPED, FITTED, HAND):
            continue
        steps = {s.id: s for s in steps_of(state, piece)}
        for record in piece.done[-3:]:
            if record.step in steps:
                found.append((record.ended_s, piece, steps[record.step]))
    found.sort(key=lambda t: (-t[0], t[1].id))
    choices = []
    for _, piece, step in found[:12]:
        ended = rest_acts.rest_over(state, piece, now)
        if piece.place == FIRE and not wants_heat(step):
            ended = (LaidAside(workpiece=piece.id, hot=acts.hot_of(state, piece, now)),)
        choices.append(
            Choice(
                words=f"{short_name(state, piece, exact=True)}: {step_title(step)}",
                facts=(
                    *ended,
                    StepReopened(workpiece=piece.id, step=step.id, why="not done after all"),
                ),
            )
        )
    return "which step is not done after all?", tuple(choices)


def _last_heat(state: State) -> tuple[Workpiece, str, int] | None:
    """The piece of the heat that ended last, its step, and the heats counted in that step.

    None where that heat ended in scrap or in the quench, or nobody knows how many there were.
    """
    heated = [p for p in state.pieces.values() if p.last_heat_s is not None and p.place != HAND]
    if not heated:
        return None
    piece = max(heated, key=lambda p: p.last_heat_s or 0.0)
    if piece.place == SCRAPPED:
        return None
    step = step_of(state, piece)
    if piece.heats and step is not None and step.kind == "forge":
        return piece, step.id, piece.heats
    last = next((r for r in reversed(piece.done) if r.kind in ("forge", "harden")), None)
    if last is not None and last.kind == "forge" and last.heats:
        return piece, last.step, last.heats
    return None


def else_list(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Mends, notes and the end of the day."""
    choices: list[Choice] = []
    last = _last_heat(state)
    if last is not None:
        piece, step, heats = last
        name = short_name(state, piece)
        choices.append(
            Choice(
                words=f"that last heat was two ({name})",
                facts=(HeatsCorrected(workpiece=piece.id, step=step, heats=heats + 1),),
            )
        )
        # Only while it lies where that heat left it.
        if piece.since_s == piece.last_heat_s:
            choices.append(
                Choice(
                    words=f"it ended a minute ago ({name})",
                    facts=(HeatEndedEarlier(workpiece=piece.id, seconds=60.0),),
                )
            )
    if state.undone:
        session, press = state.undone[-1].made_by
        named = "" if session == state.session else session
        choices.append(
            Choice(words="put back what was undone", facts=(Redone(press=press, session=named),))
        )
    choices += [
        Choice(words="end of the day", opens=to("lie")),
        Choice(words="a step is not done after all", opens=to("reopen")),
        Choice(words="a step is done, heats not pressed", opens=to("unpressed")),
        Choice(words="trouble with a cold piece", opens=to("troubled")),
        Choice(words="a size was gauged", opens=to("gauges")),
        Choice(words="note", entry="note"),
        Choice(words="another method", opens=to("method")),
        Choice(words="a tool is ready, or is not", opens=to("tools")),
        Choice(words="what a heat was judged by", opens=to("judged")),
        Choice(words="let a piece rest", opens=to("rested")),
        Choice(words="cool a piece in water", opens=to("watered")),
    ]
    choices += [
        Choice(
            words=f"{TEST_PIECE} ({order.title or order.label})",
            facts=(Noted(order=order.id, words=TEST_PIECE),),
        )
        for order in _with_unknown_steel(state)
    ]
    if state.fire.lit:
        choices.append(Choice(words="the fire is out", facts=day_acts.fire_out(state, now)))
    else:
        choices.append(
            Choice(
                words="the fire is lit again",
                facts=(
                    FireLit(
                        fire=state.fire.name,
                        fire_kind=state.fire.kind,
                        places=state.fire.places,
                        method=state.method,
                        light=state.light,
                        air_degc=state.air_degc,
                    ),
                ),
            )
        )
    return "something else", tuple(choices)


def _with_unknown_steel(state: State) -> list[Order]:
    """Orders that harden a steel which nobody knows, and of which no test piece was tried."""
    found = {}
    for piece in state.pieces.values():
        treated = any(s.kind == "harden" for s in steps_of(state, piece))
        if live(piece) and treated and not steel_known(state, piece):
            found[piece.order] = state.orders[piece.order]
    return list(found.values())


def lie(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """End of the day: where it all lies."""
    return "end of the day: where does it all lie?", tuple(
        Choice(
            words=where,
            facts=(*day_acts.clear_away(state, now, where), DayEnded(where=where)),
            asks="end of the day",
        )
        for where in PLACES_TO_LIE
    )


def unpressed(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """A step that is done, whose heats nobody pressed."""
    found = [
        p
        for p in state.pieces.values()
        if p.place in (WAITING, FIRE)
        and (s := step_of(state, p)) is not None
        and s.kind == "forge"
        and p.begun
    ]
    found.sort(key=lambda p: (-p.since_s, p.id))
    choices = []
    for piece in found[:12]:
        step = step_of(state, piece)
        assert step is not None
        choices.append(
            Choice(
                words=f"{short_name(state, piece, exact=True)}: {step_title(step)}",
                facts=acts.finish(state, piece, now, settings, heats_unknown=True),
            )
        )
    return "which step is done?", tuple(choices)


def tools(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Tools of the work under way, missing ones first."""
    names: dict[str, str] = {}
    for piece in state.pieces.values():
        if live(piece):
            for step in steps_of(state, piece):
                names.update({t.id: t.name for t in step.tools})
    condition = {
        tool: (state.tools[tool][0] if tool in state.tools else settings.tools.get(tool, "have"))
        for tool in names
    }
    order = sorted(names, key=lambda t: (condition[t] in ("have", "proved"), names[t]))
    choices = []
    for tool in order[:40]:
        ready = condition[tool] in ("have", "proved")
        words = f"{names[tool]}: to be repaired" if ready else f"{names[tool]}: ready"
        state_now = "to be repaired" if ready else "have"
        choices.append(Choice(words=words, facts=(ToolSeen(tool=tool, state=state_now),)))
    return "which tool?", tuple(choices)


def judged(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """What the heat of a treatment was judged by."""
    choices = []
    for piece in sorted(state.pieces.values(), key=lambda p: (-p.since_s, p.id)):
        steps = steps_of(state, piece)
        for step in reversed(steps[: piece.step + 1]):
            if step.kind in HEAT_KINDS and piece.begun and piece.place != SCRAPPED:
                choices += [
                    Choice(
                        words=f"{short_name(state, piece, exact=True)}, {step_title(step)}: {how}",
                        facts=(JudgedBy(workpiece=piece.id, step=step.id, how=how),),
                    )
                    for how in JUDGES
                ]
                break
    return "what was the heat judged by?", tuple(choices[:24])


def rested(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """An extra rest for a hot piece."""
    choices = []
    for piece in sorted(state.pieces.values(), key=lambda p: (-p.since_s, p.id)):
        if piece.place != WAITING or not piece.begun or piece.id not in state.hot:
            continue
        for until, degc in EXTRA_RESTS:
            hot = hot_laid_down(state, piece, now)
            goal = RestGoal(until=until, degc=degc)
            section = section_of(state, piece)
            need_s = needed_s(section, hot.degc, goal, state.air_degc)
            choices.append(
                Choice(
                    words=f"{short_name(state, piece, exact=True)}: to {until}",
                    facts=(
                        RestStarted(
                            workpiece=piece.id,
                            step="",
                            until=until,
                            degc=degc,
                            section=section,
                            start_degc=round(hot.degc, 1),
                            needed_s=round(need_s, 1),
                        ),
                    ),
                )
            )
    return "which piece is to rest?", tuple(choices[:24])
