"""The keys while a piece is in hand: it outranks every other card."""

from __future__ import annotations

from forgelog.floor import acts
from forgelog.floor.meaning import WORDS_MOST, Facts, Here, Meaning, does, opens, says
from forgelog.floor.stand import ENTER, SPACE, TAB
from forgelog.recipe.resolved import Step
from forgelog.work.facts import LotCounted
from forgelog.work.queries import step_of
from forgelog.work.state import Workpiece

GOES = {
    "rest": "let it rest",
    "hand": "go on, same heat",
    "fire": "back in the fire",
    "aside": "lay it aside",
    "done": "all done",
}
_SHORT = {"rest": "rest", "hand": "go on", "fire": "to the fire", "aside": "aside", "done": "done"}


def in_hand_keys(here: Here, piece: Workpiece) -> dict[str, Meaning]:
    """SPACE, ENTER and TAB while this piece is in hand."""
    step = step_of(here.state, piece)
    if step is None:
        return {
            SPACE: says("all its steps are done", here.stand),
            ENTER: does(
                here,
                "lay it aside",
                lambda: acts.heat_over(here.state, piece, here.now, to="aside"),
            ),
            TAB: opens(here, "trouble", piece.id, "trouble, lay aside"),
        }
    to = acts.where_to(here.state, piece, here.settings)
    if step.kind == "gauge":
        return {
            SPACE: does(
                here,
                "does not fit: go on with it",
                lambda: acts.does_not_fit(here.state, piece, here.now),
            ),
            ENTER: does(
                here,
                f"it fits: {GOES[to]}",
                lambda: acts.fits(here.state, piece, here.now, here.settings),
            ),
            TAB: opens(here, "trouble", piece.id, "trouble, lay aside"),
        }
    if here.state.fire.lit:
        space = does(
            here,
            "heat over, back in the fire",
            lambda: acts.heat_over(here.state, piece, here.now),
            chosen=piece.id,
        )
    else:
        space = says("the fire is out: lay it aside", here.stand)
    if step.open:
        since = f"{here.now.work_s:.1f}"
        enter = opens(here, "said", piece.id, "it is done: say what it was", since)
    else:
        enter = step_done(here, piece, step, to)
    return {
        SPACE: space,
        ENTER: enter,
        TAB: opens(here, "trouble", piece.id, "trouble, lay aside"),
    }


def step_done(here: Here, piece: Workpiece, step: Step, to: str) -> Meaning:
    """ENTER: the step is done, and where the piece goes; for a handful, one more."""
    if piece.lot and piece.counted + 1 < piece.lot:
        return does(
            here,
            f"one more done: {piece.counted + 1} of {piece.lot}",
            lambda: (LotCounted(workpiece=piece.id, step=step.id),),
            chosen=piece.id,
        )

    def facts() -> Facts:
        count: Facts = (LotCounted(workpiece=piece.id, step=step.id),) if piece.lot else ()
        return (*count, *acts.finish(here.state, piece, here.now, here.settings))

    goes = GOES[to]
    if step.kind == "harden":
        goes = "temper at once"
    words = f"{step.done}: {goes}"
    if len(words) > WORDS_MOST:
        words = f"done: {goes}" if len(step.done) > WORDS_MOST - 8 else f"{step.done}: {_SHORT[to]}"
    if len(words) > WORDS_MOST:
        words = f"done: {goes}"
    return does(here, words, facts, chosen=piece.id)
