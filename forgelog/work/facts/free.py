"""Facts of work without a recipe: what was done is said step by step, and the recipe grows."""

from __future__ import annotations

from forgelog.recipe.resolved import Step
from forgelog.work.facts.base import Fact


class StepSaid(Fact, frozen=True, kw_only=True, tag="step said"):
    """What the open step of a piece is; another open step follows it.

    Said of a step that has been said before it replaces what was said; None says that nothing more
    is to be done: the component ends before the open step.
    """

    workpiece: str
    step: Step | None = None
