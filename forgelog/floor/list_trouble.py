"""Lists of trouble: burnt, cracked, scrapped, the wrong piece, water, method."""

from __future__ import annotations

from collections.abc import Callable

from forgelog.floor import acts, rest_acts
from forgelog.floor.blocks import scrapped_for_good
from forgelog.floor.choices import Choice, Facts, Made, piece_of, to
from forgelog.floor.names import short_name
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.recipe.resolved import METHODS
from forgelog.work.causes import CAUSES
from forgelog.work.facts import (
    CooledInWater,
    Cracked,
    EndCutOff,
    LaidAside,
    LotSpoilt,
    MadeAgain,
    MethodChanged,
    RestBrokenOff,
    Scrapped,
    SpareUsed,
    Swapped,
)
from forgelog.work.making import again
from forgelog.work.moments import Moment
from forgelog.work.outstanding import spares_for
from forgelog.work.queries import live, step_of
from forgelog.work.state import (
    BENCH,
    FINISHED,
    FIRE,
    HAND,
    RESTING,
    SCRAPPED,
    WAITING,
    State,
    Workpiece,
)

WATER_ENDS = ("the zero end", "the far end", "the middle")


def trouble(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """What can go wrong with this piece; a scrapped one can be made again after all."""
    piece = piece_of(listing, state)
    title = f"trouble: {short_name(state, piece, exact=True)}"
    if piece.place == SCRAPPED:
        remake = again(state.orders[piece.order], piece)
        facts = (MadeAgain(workpiece=piece.id, remake=remake),)
        return title, (
            *(
                Choice(
                    words=f"take the {short_name(state, spare, exact=True)}",
                    facts=(SpareUsed(workpiece=spare.id, instead_of=piece.id),),
                )
                for spare in spares_for(state, piece)
            ),
            Choice(words="make another after all", facts=facts),
        )
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
        choices.append(Choice(words="some are spoilt", opens=to("spoilt", piece.id)))
    if not piece.spare:
        choices += [
            Choice(
                words=f"scrap it, take the {short_name(state, spare, exact=True)}",
                opens=to("why", piece.id, f"spare {spare.id}"),
            )
            for spare in spares_for(state, piece)
        ]
    choices += [
        Choice(words="scrap it, make another", opens=to("why", piece.id, "remake")),
        Choice(words="scrap it, make no other", opens=to("why", piece.id)),
    ]
    if piece.place == HAND:
        choices += [
            _another(piece),
            Choice(words="cool an end in water", opens=to("water", piece.id)),
            Choice(words="another method", opens=to("method")),
        ]
    return title, tuple(choices)


def _another(piece: Workpiece) -> Choice:
    """The smith holds another piece: only where that cannot spoil what was recorded already."""
    words = "it is another piece that I hold"
    if piece.open is not None and piece.open.quench:
        return Choice(words=words, message="it is in the quench: lay it aside first")
    if piece.open is not None and piece.open.steps:
        return Choice(words=words, message="a step was done in this heat: undo that first")
    return Choice(words=words, opens=to("swap", piece.id))


def why(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Why it is scrapped; a remake, or a spare, takes its slot."""
    piece = piece_of(listing, state)
    remake = again(state.orders[piece.order], piece) if listing.detail == "remake" else None
    spare = listing.detail.removeprefix("spare ") if listing.detail.startswith("spare ") else ""
    after: Facts = (SpareUsed(workpiece=spare, instead_of=piece.id),) if spare else ()
    before: Facts = rest_acts.rest_over(state, piece, now)
    if piece.place == FIRE:
        before = (LaidAside(workpiece=piece.id, hot=acts.hot_of(state, piece, now)),)
    return "scrapped: why?", tuple(
        Choice(
            words=reason,
            facts=(
                *before,
                Scrapped(workpiece=piece.id, why=reason, heat=piece.heats + 1, remake=remake),
                *after,
            ),
        )
        for reason in CAUSES
    )


def spoilt(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """How many of a handful are spoilt."""
    piece = piece_of(listing, state)
    return "how many are spoilt?", tuple(
        Choice(
            words=f"{n}: made again",
            facts=(LotSpoilt(workpiece=piece.id, spoilt=n, again=n),),
        )
        for n in range(1, min(piece.lot, 9) + 1)
    )


def swap(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Which piece is really in hand."""
    held = piece_of(listing, state)
    others = [
        p
        for p in state.pieces.values()
        if p.id != held.id and p.place in (FIRE, WAITING) and _is_forged(state, p)
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


def _is_forged(state: State, piece: Workpiece) -> bool:
    step = step_of(state, piece)
    return step is not None and step.kind == "forge"


def water(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Which end, or all of it, goes into the water."""
    piece = piece_of(listing, state)
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


def method(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Another method from now on."""
    words = {"hand": "by hand", "striker": "with a striker", "power": "power hammer"}
    return "method from now on", tuple(
        Choice(words=words.get(m, m), facts=(MethodChanged(method=m),))
        for m in METHODS
        if m != state.method
    )


def pieces(kind: str, title: str, *, resting: bool = True) -> Callable[..., Made]:
    """A list of pieces, each of which opens another list."""

    def made(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
        places = (WAITING, BENCH, FIRE, RESTING) if resting else (WAITING, BENCH)
        found = [
            p
            for p in state.pieces.values()
            if p.place in (*places, FINISHED) and (p.begun or live(p))
        ]
        if kind == "trouble":
            found += scrapped_for_good(state)
        found.sort(key=lambda p: (p.place == SCRAPPED, -p.since_s, p.id))
        return title, tuple(
            Choice(words=_named(state, p), opens=to(kind, p.id)) for p in found[:24]
        )

    return made


def _named(state: State, piece: Workpiece) -> str:
    scrapped = " (scrapped)" if piece.place == SCRAPPED else ""
    return short_name(state, piece, exact=True) + scrapped
