"""What `forgelog learn` tells, as records: the pages and the JSON are made from these.

Field names end in their unit (`_min`); heats and pieces are counts. A range is what happens most
often, never an exact chance. None says: not enough yet.
"""

from __future__ import annotations

from forgelog.desk.review_facts import Told
from forgelog.learn.suggest import Suggestion


class HeatsLearnt(Told, frozen=True, kw_only=True):
    """Heats of the next piece of a steady run, and of a run's first piece."""

    heats: int
    low_heats: int
    high_heats: int
    first_heats: int
    records: int
    """From so many pieces of the smith's own."""


class TimeLearnt(Told, frozen=True, kw_only=True):
    """Time of the next piece of a steady run, and of a run's first piece."""

    steady_min: float
    low_min: float
    high_min: float
    first_min: float
    records: int


class OddPiece(Told, frozen=True, kw_only=True):
    """A piece that took unusually many or few heats: named, counted, held to a short lever."""

    workpiece: str
    piece: str
    """ "orchard gate: strap left 1"."""
    day: str
    """YYYY-MM-DD, by the smith's clock."""
    taken_heats: int
    usual_heats: float
    why: str
    """What the journal knows of it: "the end was cut off"; "" where nothing is known."""


class RestsLearnt(Told, frozen=True, kw_only=True):
    """How a rest was kept, in counts."""

    step: str
    do: str
    kept: int
    unsure: int
    short: int
    skipped: int
    broken: int


class StepLearnt(Told, frozen=True, kw_only=True):
    """A step by one method, or a cold step."""

    step: str
    do: str
    method: str
    """ "" at the bench."""
    planned_heats: int | None
    """The recipe's; None for a cold step."""
    own_heats: int | None
    """The smith's own figure, which holds in its place; None where there is none."""
    planned_min: float | None
    """The recipe's minutes of a cold step."""
    heats: HeatsLearnt | None
    in_hand: TimeLearnt | None
    in_fire: TimeLearnt | None
    """Of one piece; where several lie in the fire they run at once."""
    at_bench: TimeLearnt | None
    odd: tuple[OddPiece, ...]
    """The newest first."""


class ComponentLearnt(Told, frozen=True, kw_only=True):
    """One component of a recipe."""

    component: str
    name: str
    steps: tuple[StepLearnt, ...]
    rests: tuple[RestsLearnt, ...]


class RecipeLearnt(Told, frozen=True, kw_only=True):
    """What the journal teaches of one recipe."""

    recipe: str
    name: str
    components: tuple[ComponentLearnt, ...]


class Answered(Told, frozen=True, kw_only=True):
    """A suggestion that was answered, and can be asked for again."""

    suggestion: str
    accepted: bool
    words: str
    """ "strap: roll the eye by hand: 5 heats, your own figure (the recipe plans 3)"."""


class Learnings(Told, frozen=True, kw_only=True):
    """All that the journal teaches, of all recipes or of one."""

    practice: bool
    first_piece_times: float | None
    """How many times the heats of a run's fifth piece its first one takes; None without records."""
    records: int
    """Of heats, on all steps."""
    recipes: tuple[RecipeLearnt, ...]
    suggestions: tuple[Suggestion, ...]
    answered: tuple[Answered, ...]
