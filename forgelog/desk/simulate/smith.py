"""The simulated smith: how many heats and minutes things really take him, and his habits."""

from __future__ import annotations

import math
from random import Random

import msgspec

from forgelog.recipe.resolved import Step
from forgelog.work.queries import recipe_of
from forgelog.work.state import State, Workpiece

RATIO = 1.2
"""His heats to the plan's, all steps together."""
STEP_SD, PIECE_SD, FIRST = 0.22, 0.16, 1.25
"""Log-spread of steps about his ratio and of pieces about their step; the first piece of a run."""
BENCH_RATIO, BENCH_SD = 1.15, 0.2
UNHURRIED = (1.27, 1.5)
"""Where a rest matters he leaves the piece for so much longer than the sum says: sums are about."""
BENCH_USUAL_S = 8 * 60.0
"""Cold work for which the recipe gives no minutes."""


class Smith:
    """Knows what each piece will take before he begins it; the same for the same seed."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self._steps: dict[tuple[str, str, str], float] = {}
        self._heats: dict[tuple[str, str], int] = {}
        self._patience: dict[tuple[str, float], float] = {}

    def heats(self, state: State, piece: Workpiece, step: Step) -> int:
        """How many heats this step of this piece takes."""
        key = piece.id, step.id
        if key not in self._heats:
            planned = step.heats.get(state.method) or step.heats.get("hand") or 1
            recipe = recipe_of(state, piece).id
            own = self._own((recipe, piece.component, step.id))
            spread = math.exp(self.rng.gauss(own, PIECE_SD))
            first = FIRST if self._run(state, piece, step) == 1 and planned > 1 else 1.0
            self._heats[key] = max(1, round(planned * RATIO * spread * first))
        return self._heats[key]

    def heat_s(self, left_s: float) -> float:
        """How long he works in a heat that should last so long yet, seconds."""
        return max(7.0, left_s * self.rng.uniform(0.7, 1.05))

    def bench_s(self, state: State, piece: Workpiece, step: Step) -> float:
        """How long cold work takes him, seconds."""
        usual_s = (step.minutes_s or BENCH_USUAL_S) / max(1, piece.lot)
        run = self._run(state, piece, step)
        spread = math.exp(self.rng.gauss(0.0, BENCH_SD))
        # The form of learn/minutes: the first piece takes about half as long again as the second.
        return max(20.0, usual_s * BENCH_RATIO * spread * (1 + 0.6 / math.sqrt(run) ** 3))

    def patience(self, piece: Workpiece) -> float:
        """How long he lets this piece rest: the share of the predicted time, mostly above 1."""
        rest = piece.rest
        assert rest is not None
        key = piece.id, rest.started_s
        if key not in self._patience:
            chance = self.rng.random()
            if rest.skipping != "note" or not rest.step:
                share = self.rng.uniform(*UNHURRIED)
            elif chance < 0.03:
                share = 0.04
            elif chance < 0.12:
                share = self.rng.uniform(0.35, 0.6)
            else:
                share = max(1.0, self.rng.uniform(0.7, 1.6))
            self._patience[key] = share
        return self._patience[key]

    def hurries(self, piece: Workpiece, share: float) -> None:
        """Make him let this rest have no more than a share of its time."""
        assert piece.rest is not None
        self._patience[piece.id, piece.rest.started_s] = share

    def _own(self, key: tuple[str, str, str]) -> float:
        if key not in self._steps:
            self._steps[key] = self.rng.gauss(0.0, STEP_SD)
        return self._steps[key]

    @staticmethod
    def _run(state: State, piece: Workpiece, step: Step) -> int:
        return 1 + sum(
            any(r.step == step.id for r in p.done)
            for p in state.pieces.values()
            if p.order == piece.order and p.component == piece.component and p.id != piece.id
        )


class Slip(msgspec.Struct, frozen=True, kw_only=True):
    """Something that goes otherwise than it should, once, in one session."""

    what: str
    """In hand: burnt, unpressed, undo, scrap. Cold: crack, misfit. Of a rest: short. At a time:
    note, door, cut, end."""
    component: str = ""
    step: str = ""
    after_min: float = 0.0
    """Not before so many minutes of the session."""
    words: str = ""
    """The reason, the note, or the share of a rest."""
