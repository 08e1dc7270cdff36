"""The lists behind TAB and "something else": what can be chosen, and what each choice does."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from forgelog.floor import acts
from forgelog.floor.blocks import TEST_PIECE, steel_known
from forgelog.floor.names import short_name
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.floor.sums import hot_laid_down, needed_s, section_of
from forgelog.recipe.resolved import HEAT_KINDS, METHODS, RestGoal
from forgelog.units import show_length
from forgelog.work.facts import (
    AnyFact,
    CooledInWater,
    Cracked,
    DayEnded,
    EndCutOff,
    FireLit,
    Gauged,
    HeatEndedEarlier,
    HeatsCorrected,
    JudgedBy,
    LotSpoilt,
    MethodChanged,
    NewPiece,
    Noted,
    Redone,
    RestBrokenOff,
    RestStarted,
    Scrapped,
    StepReopened,
    Swapped,
    ToolSeen,
)
from forgelog.work.ids import workpiece_id
from forgelog.work.moments import Moment
from forgelog.work.queries import live, step_of, steps_of
from forgelog.work.state import (
    BENCH,
    FINISHED,
    FIRE,
    FITTED,
    HAND,
    RESTING,
    SCRAPPED,
    WAITING,
    Order,
    State,
    Workpiece,
)

Facts = tuple[AnyFact, ...]

SCRAP_REASONS = ("burnt", "cracked", "cold shut", "too short", "wrong size", "lost")
PLACES_TO_LIE = ("on the bench", "beside the fire", "box 1", "box 2", "box 3", "on the rack")
WATER_ENDS = ("the zero end", "the far end", "the middle")
JUDGES = ("eye", "magnet", "thermocouple", "oven")
EXTRA_RESTS = (("black", 480.0), ("hand-warm", 45.0))


class Choice(msgspec.Struct, frozen=True, kw_only=True):
    """One line of a list."""

    words: str
    facts: Facts = ()
    opens: Listing | None = None
    entry: str = ""
    """Opens a line of text for this."""
    message: str = ""
    asks: str = ""
    """Name of an act that is asked about first."""


class ListOf(msgspec.Struct, frozen=True, kw_only=True):
    """A list as it stands now."""

    title: str
    choices: tuple[Choice, ...]


def _new_piece(state: State, piece: Workpiece) -> NewPiece:
    serial = state.orders[piece.order].serials + 1
    return NewPiece(
        id=workpiece_id(piece.order, piece.component, serial),
        component=piece.component,
        serial=serial,
        mark=piece.mark,
        set=piece.set,
        slot=piece.slot,
        lot=piece.lot,
        remade_from=piece.id,
    )


def open_list(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> ListOf:
    """The list that is open: its title and its choices, never empty."""
    title, choices = _LISTS[listing.kind](listing, state, now, settings)
    if not choices:
        choices = (Choice(words="nothing to choose: leave", message="there was nothing to choose"),)
    return ListOf(title=title, choices=choices)


_Made = tuple[str, tuple[Choice, ...]]


def _piece(listing: Listing, state: State) -> Workpiece:
    return state.pieces[listing.piece]


def _to(kind: str, piece: str = "", detail: str = "") -> Listing:
    return Listing(kind=kind, piece=piece, detail=detail)


def _trouble(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    piece = _piece(listing, state)
    choices: list[Choice] = []
    if piece.place == HAND:
        choices.append(
            Choice(words="lay it aside", facts=acts.heat_over(state, piece, now, to="aside"))
        )
    if piece.place in (HAND, WAITING, BENCH):
        choices.append(
            Choice(
                words="cut off the burnt end", facts=(EndCutOff(workpiece=piece.id, why="burnt"),)
            )
        )
    choices.append(Choice(words="cracked", facts=(Cracked(workpiece=piece.id, words="cracked"),)))
    if piece.lot:
        choices.append(Choice(words="some are spoilt", opens=_to("spoilt", piece.id)))
    choices += [
        Choice(words="scrap it, make another", opens=_to("why", piece.id, "remake")),
        Choice(words="scrap it, make no other", opens=_to("why", piece.id)),
    ]
    if piece.place == HAND:
        choices += [
            Choice(words="it is another piece that I hold", opens=_to("swap", piece.id)),
            Choice(words="cool an end in water", opens=_to("water", piece.id)),
            Choice(words="another method", opens=_to("method")),
        ]
    return f"trouble: {short_name(state, piece, exact=True)}", tuple(choices)


def _why(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    piece = _piece(listing, state)
    remake = _new_piece(state, piece) if listing.detail == "remake" else None
    before: Facts = acts.rest_over(state, piece, now) if piece.place == RESTING else ()
    return "scrapped: why?", tuple(
        Choice(
            words=reason,
            facts=(
                *before,
                Scrapped(workpiece=piece.id, why=reason, heat=piece.heats + 1, remake=remake),
            ),
        )
        for reason in SCRAP_REASONS
    )


def _spoilt(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    piece = _piece(listing, state)
    return "how many are spoilt?", tuple(
        Choice(
            words=f"{n}: made again",
            facts=(LotSpoilt(workpiece=piece.id, spoilt=n, again=n),),
        )
        for n in range(1, min(piece.lot, 9) + 1)
    )


def _swap(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    held = _piece(listing, state)
    others = [
        p
        for p in state.pieces.values()
        if p.id != held.id and p.place in (FIRE, WAITING) and _takes_heat(state, p)
    ]
    others.sort(key=lambda p: (p.place != FIRE, p.component != held.component, p.since_s, p.id))
    return "which piece do you hold?", tuple(
        Choice(
            words=f"{short_name(state, p, exact=True)} ({_LIES.get(p.place, 'aside')})",
            facts=(Swapped(workpiece=held.id, other=p.id),),
        )
        for p in others[:12]
    )


_LIES = {FIRE: "in the fire"}


def _takes_heat(state: State, piece: Workpiece) -> bool:
    step = step_of(state, piece)
    return step is not None and (step.kind == "forge" or step.kind in HEAT_KINDS)


def _water(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    piece = _piece(listing, state)
    choices = [
        Choice(words=end, facts=(CooledInWater(workpiece=piece.id, end=end),)) for end in WATER_ENDS
    ]
    broken: Facts = ()
    if piece.place == RESTING and piece.rest is not None:
        rested_s = max(0.0, now.rest_s - piece.rest.started_s)
        broken = (
            RestBrokenOff(
                workpiece=piece.id, step=piece.rest.step, by="water", rested_s=round(rested_s, 1)
            ),
        )
    choices.append(
        Choice(
            words="all of it: breaks the rest" if broken else "all of it",
            facts=(*broken, CooledInWater(workpiece=piece.id, whole=True)),
        )
    )
    return "cool in water: never steel that hardens", tuple(choices)


def _method(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    words = {"hand": "by hand", "striker": "with a striker", "power": "power hammer"}
    return "method from now on", tuple(
        Choice(words=words.get(m, m), facts=(MethodChanged(method=m),))
        for m in METHODS
        if m != state.method
    )


def _pieces(kind: str, title: str, *, resting: bool = True) -> Callable[..., _Made]:
    """A list of pieces, each of which opens another list."""

    def made(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
        places = (WAITING, BENCH, FIRE, RESTING) if resting else (WAITING, BENCH)
        found = [
            p
            for p in state.pieces.values()
            if p.place in (*places, FINISHED) and (p.begun or live(p))
        ]
        found.sort(key=lambda p: (-p.since_s, p.id))
        return title, tuple(
            Choice(words=short_name(state, p, exact=True), opens=_to(kind, p.id))
            for p in found[:24]
        )

    return made


def _reopen(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
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
        ended = acts.rest_over(state, piece, now)
        choices.append(
            Choice(
                words=f"{short_name(state, piece, exact=True)}: {step.do}",
                facts=(
                    *ended,
                    StepReopened(workpiece=piece.id, step=step.id, why="not done after all"),
                ),
            )
        )
    return "which step is not done after all?", tuple(choices)


def _last_heat(state: State) -> tuple[Workpiece, str] | None:
    """The piece and step of the heat that ended last."""
    best: tuple[float, Workpiece, str] | None = None
    for piece in state.pieces.values():
        if piece.last_heat_s is None or piece.place == HAND:
            continue
        step = step_of(state, piece)
        if piece.heats and step is not None:
            name = step.id
        elif piece.done:
            name = piece.done[-1].step
        else:
            continue
        if best is None or piece.last_heat_s > best[0]:
            best = (piece.last_heat_s, piece, name)
    return (best[1], best[2]) if best else None


def _heats_of(piece: Workpiece, step: str, state: State) -> int:
    at = step_of(state, piece)
    if at is not None and at.id == step:
        return piece.heats
    for record in reversed(piece.done):
        if record.step == step:
            return record.heats or 0
    return 0


def _else(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    choices: list[Choice] = []
    last = _last_heat(state)
    if last is not None:
        piece, step = last
        heats = _heats_of(piece, step, state) + 1
        name = short_name(state, piece)
        choices.append(
            Choice(
                words=f"that last heat was two ({name})",
                facts=(HeatsCorrected(workpiece=piece.id, step=step, heats=heats),),
            )
        )
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
        Choice(words="end of the day", opens=_to("lie")),
        Choice(words="a step is not done after all", opens=_to("reopen")),
        Choice(words="a step is done, heats not pressed", opens=_to("unpressed")),
        Choice(words="trouble with a cold piece", opens=_to("troubled")),
        Choice(words="a size was gauged", opens=_to("gauges")),
        Choice(words="note", entry="note"),
        Choice(words="another method", opens=_to("method")),
        Choice(words="a tool is ready, or is not", opens=_to("tools")),
        Choice(words="what a heat was judged by", opens=_to("judged")),
        Choice(words="let a piece rest", opens=_to("rested")),
        Choice(words="cool a piece in water", opens=_to("watered")),
    ]
    choices += [
        Choice(
            words=f"{TEST_PIECE} ({order.title or order.label})",
            facts=(Noted(order=order.id, words=TEST_PIECE),),
        )
        for order in _with_unknown_steel(state)
    ]
    if state.fire.lit:
        choices.append(Choice(words="the fire is out", facts=acts.fire_out(state, now)))
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


def _lie(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    return "end of the day: where does it all lie?", tuple(
        Choice(
            words=where,
            facts=(*acts.clear_away(state, now, where), DayEnded(where=where)),
            asks="end of the day",
        )
        for where in PLACES_TO_LIE
    )


def _unpressed(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
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
                words=f"{short_name(state, piece, exact=True)}: {step.do}",
                facts=acts.finish(state, piece, now, settings, heats_unknown=True),
            )
        )
    return "which step is done?", tuple(choices)


def _gauges(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    choices = []
    for piece in sorted(state.pieces.values(), key=lambda p: (-p.since_s, p.id)):
        if not piece.begun or piece.place in (SCRAPPED, FIRE):
            continue
        for step in steps_of(state, piece)[: piece.step + 1]:
            for number, gauge in enumerate(step.gauges):
                choices.append(
                    Choice(
                        words=f"{short_name(state, piece, exact=True)}: {gauge.what}",
                        opens=_to("sizes", piece.id, f"{step.id}:{number}"),
                    )
                )
    return "which size?", tuple(choices[:24])


def _sizes(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    piece = _piece(listing, state)
    step_id, _, number = listing.detail.rpartition(":")
    step = next(s for s in steps_of(state, piece) if s.id == step_id)
    gauge = step.gauges[int(number)]
    by = 0.5 if settings.units == "mm" else 25.4 / 32
    offsets = (0, 1, -1, 2, -2, 3, -3, 4, -4, 6, -6, 8, -8)
    choices = []
    for offset in offsets:
        mm = gauge.mm + offset * by
        if mm <= 0:
            continue
        fits = -gauge.minus_mm - 0.01 <= mm - gauge.mm <= gauge.plus_mm + 0.01 or offset == 0
        choices.append(
            Choice(
                words=show_length(mm, settings.units) + ("" if fits else ": outside"),
                facts=(
                    Gauged(
                        workpiece=piece.id,
                        step=step.id,
                        what=gauge.what,
                        fits=fits,
                        mm=round(mm, 3),
                    ),
                ),
            )
        )
    choices.append(Choice(words="another size: type it", entry=f"size:{listing.detail}"))
    return f"{gauge.what}: how much?", tuple(choices)


def _tools(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
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


def _judged(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
    choices = []
    for piece in sorted(state.pieces.values(), key=lambda p: (-p.since_s, p.id)):
        steps = steps_of(state, piece)
        for step in reversed(steps[: piece.step + 1]):
            if step.kind in HEAT_KINDS and piece.begun and piece.place != SCRAPPED:
                choices += [
                    Choice(
                        words=f"{short_name(state, piece, exact=True)}, {step.do}: {how}",
                        facts=(JudgedBy(workpiece=piece.id, step=step.id, how=how),),
                    )
                    for how in JUDGES
                ]
                break
    return "what was the heat judged by?", tuple(choices[:24])


def _rested(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> _Made:
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


_LISTS: dict[str, Callable[[Listing, State, Moment, FloorSettings], _Made]] = {
    "trouble": _trouble,
    "why": _why,
    "spoilt": _spoilt,
    "swap": _swap,
    "water": _water,
    "method": _method,
    "else": _else,
    "troubled": _pieces("trouble", "which piece?"),
    "watered": _pieces("water", "which piece?"),
    "reopen": _reopen,
    "unpressed": _unpressed,
    "gauges": _gauges,
    "sizes": _sizes,
    "tools": _tools,
    "judged": _judged,
    "rested": _rested,
    "lie": _lie,
}
