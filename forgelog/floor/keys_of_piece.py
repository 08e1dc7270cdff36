"""The keys on a card with nothing in hand: what can be done with this piece now."""

from __future__ import annotations

from forgelog.floor import acts, rest_acts
from forgelog.floor.advice import next_step, rest_left_s, room, wants_heat
from forgelog.floor.blocks import block, lock_holder, lost_part, waived
from forgelog.floor.keys_in_hand import step_done
from forgelog.floor.meaning import Here, Meaning, asks, does, opens, says
from forgelog.floor.names import short_name
from forgelog.floor.stand import ENTER, SPACE, Asking
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.units import show_clock
from forgelog.work.facts import BenchBegun, BenchStopped
from forgelog.work.queries import step_of, steps_of
from forgelog.work.state import BENCH, FINISHED, FIRE, FITTED, RESTING, SCRAPPED, Workpiece


def piece_keys(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    """SPACE and ENTER on the card of this piece."""
    if piece.place == SCRAPPED:
        return nothing(here, "scrapped")
    if piece.place in (FINISHED, FITTED):
        return nothing(here, "it is finished" if piece.place == FINISHED else "it is fitted")
    if piece.place == FIRE:
        return _in_the_fire(here, piece)
    if piece.place == BENCH:
        return _on_the_bench(here, piece)
    if piece.place == RESTING:
        if rest_left_s(piece, here.now) > 0:
            return _rests(here, piece)
        if next_step(here.state, piece) is None:
            return nothing(here, "it is finished")
    step = next_step(here.state, piece)
    if step is None:
        return nothing(here, "it is finished")
    return _ready(here, piece, step)


def nothing(here: Here, words: str) -> dict[str, Meaning]:
    """Both keys say why there is nothing to do."""
    return {
        SPACE: says(words, here.stand, f"{words}: TAB shows what is next"),
        ENTER: says(words, here.stand, f"{words}: TAB shows what is next"),
    }


def _in_the_fire(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    step = step_of(here.state, piece)
    words = "out of the fire, into the hand"
    if step is not None and step.kind == "harden":
        words = f"out and into the {step.quench or 'oil'}"
    elif step is not None and step.kind in HEAT_KINDS:
        words = "out to cool"
    if step is None:
        return nothing(here, "all its steps are done")
    return {
        SPACE: does(
            here, words, lambda: acts.take_out(here.state, piece, here.now), chosen=piece.id
        ),
        ENTER: says("it is in the fire", here.stand, "it is in the fire: SPACE takes it out"),
    }


def _on_the_bench(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    step = step_of(here.state, piece)
    if step is None:
        return nothing(here, "all its steps are done")
    if piece.running:
        space = does(here, "stop the bench clock", lambda: (BenchStopped(workpiece=piece.id),))
    else:
        space = does(
            here, "go on at the bench", lambda: (BenchBegun(workpiece=piece.id, step=step.id),)
        )
    to = "rest" if rest_acts.rests_after(steps_of(here.state, piece), piece.step) else "aside"
    if piece.step + 1 >= len(steps_of(here.state, piece)):
        to = "done"
    return {SPACE: space, ENTER: step_done(here, piece, step, to)}


def _rests(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    left_s = rest_left_s(piece, here.now)
    step = next_step(here.state, piece)
    rest = piece.rest
    assert rest is not None
    if step is None:
        return nothing(here, "it rests, then it is finished")
    risk = "it may crack" if rest.skipping == "matters" else "worked on too cold it may crack"
    if rest.cycle:
        risk = "this cycle would not count"
    asking = Asking(
        words=f"about {show_clock(left_s)} short: {risk}",
        yes="end the rest now",
        act="end the rest",
        piece=piece.id,
        at_s=here.now.rest_s,
    )
    return {
        SPACE: asks(here, asking, SPACE, f"rests, about {show_clock(left_s)} more"),
        ENTER: asks(here, asking, ENTER, f"rests, about {show_clock(left_s)} more"),
    }


def _ready(here: Here, piece: Workpiece, step: Step) -> dict[str, Meaning]:
    """Waiting, or its rest is done: the next step can begin, if nothing stands against it."""
    state, stand = here.state, here.stand
    if step.kind == "rest":
        asking = Asking(
            words="it has not rested at all",
            yes="skip the rest",
            act="skip the rest",
            piece=piece.id,
            at_s=here.now.rest_s,
        )
        return {
            SPACE: asks(here, asking, SPACE, "it wants its rest first"),
            ENTER: does(here, "let it rest", lambda: rest_acts.lay_to_rest(state, piece, here.now)),
        }
    blocked = block(state, piece, step, here.settings, holder=lock_holder(state))
    if blocked is not None and not waived(piece, step, blocked.kind):
        lost = lost_part(state, piece) if blocked.kind == "parts" else None
        if lost is not None:
            return _too_few(here, lost, blocked.words)
        if blocked.firm:
            return {
                SPACE: says(blocked.words, stand),
                ENTER: says(blocked.words, stand),
            }
        heated = wants_heat(step)
        asking = Asking(
            words=blocked.words,
            yes="take it all the same",
            act=f"take anyway: {blocked.kind}",
            piece=piece.id,
            at_s=here.now.rest_s,
        )
        if heated and room(state) < 1:
            return {SPACE: _no_room(here), ENTER: says(blocked.words, stand)}
        return {
            SPACE: asks(here, asking, SPACE, blocked.words),
            ENTER: asks(here, asking, ENTER, blocked.words),
        }
    if step.kind == "gauge":
        return {
            SPACE: does(
                here,
                "does not fit: the step again",
                lambda: acts.does_not_fit(state, piece, here.now),
            ),
            ENTER: does(here, "it fits", lambda: acts.fits(state, piece, here.now, here.settings)),
        }
    if wants_heat(step):
        if room(state) < 1:
            space = _no_room(here)
        else:
            space = does(
                here,
                "put it in the fire",
                lambda: acts.put_in(state, piece, here.now),
                chosen=piece.id,
            )
        if step.open:
            enter = opens(here, "next said", piece.id, "a rest, cold work, or finished")
        else:
            enter = says("it wants a heat first", stand)
        return {SPACE: space, ENTER: enter}
    return {
        SPACE: says("no heat wanted: ENTER begins", stand),
        ENTER: does(
            here,
            f"begin: {step.do}",
            lambda: acts.begin_cold(state, piece, here.now),
            chosen=piece.id,
        ),
    }


def _too_few(here: Here, lost: Workpiece, words: str) -> dict[str, Meaning]:
    """Parts were scrapped, and without another of them the assembly can never begin."""
    asking = Asking(
        words=f"{short_name(here.state, lost, exact=True)} was scrapped, and too few are left",
        yes="make another after all",
        act="make another",
        piece=lost.id,
        at_s=here.now.rest_s,
    )
    return {
        SPACE: asks(here, asking, SPACE, words),
        ENTER: asks(here, asking, ENTER, words),
    }


def _no_room(here: Here) -> Meaning:
    if not here.state.fire.lit:
        return says("the fire is out", here.stand, "the fire is out: see something else")
    held = here.state.fire.places
    return says(f"the fire is full: {held} of {held}", here.stand)
