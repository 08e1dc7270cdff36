"""When a slip of the simulated smith is due."""

from __future__ import annotations

from collections.abc import Iterable

from forgelog.desk.simulate.smith import Slip
from forgelog.floor.advice import next_step
from forgelog.work.queries import step_of
from forgelog.work.state import WAITING, State, Workpiece


def slip_due(
    slips: Iterable[Slip], state: State, what: str, piece: Workpiece, minutes: float
) -> Slip | None:
    """The first slip of a sort that is due with a piece at its step.

    Args:
        slips: Those that are still to come.
        state: What stands.
        what: The sort of slip.
        piece: With which it would happen.
        minutes: Of the session up to now.
    """
    of_rest = what == "short"
    step = (step_of if of_rest else next_step)(state, piece)
    for slip in slips:
        if (
            (slip.what, slip.component) == (what, piece.component)
            and step is not None
            and slip.step in (step.id, step.do)
            and minutes >= slip.after_min
        ):
            return slip
    return None


def piece_that_waits(state: State, slip: Slip) -> Workpiece | None:
    """The piece that lies at the step of a slip."""
    for piece in state.pieces.values():
        step = step_of(state, piece)
        if (
            piece.component == slip.component
            and piece.place == WAITING
            and not piece.remade_from
            and step is not None
            and slip.step in (step.id, step.do)
        ):
            return piece
    return None
