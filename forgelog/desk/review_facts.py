"""What a review tells, as records: the pages and the JSON are made from these.

Field names end in their unit (`_min`, `_s`, `_degc`, `_share`); heats and presses are counts.
Times of day are local, ISO 8601 with their offset. A range is what happens most often, never an
exact chance.
"""

from __future__ import annotations

import msgspec

LAST_SESSIONS = 20
"""So many sessions are listed; earlier ones are counted."""


class Told(msgspec.Struct, frozen=True, kw_only=True):
    """Base of the records of a review."""


class SessionTold(Told, frozen=True, kw_only=True):
    """One session at the fire."""

    number: int
    """From 1, the oldest first; `forgelog review 3` looks at the third."""
    session: str
    began: str
    who: str
    orders: tuple[str, ...]
    """Names of the orders in play."""
    method: str
    fire: str
    presses: int
    heats: int
    """Heats that were pressed in it."""
    length_min: float
    """From its first press to its last."""
    worked_min: float
    """Without pauses, and without the time that the machine slept."""
    ended: str
    """ "ended", "went on later" (it was cut off), or "not ended"."""
    where: str
    """Where the work was laid, in the smith's words."""


class SpanTold(Told, frozen=True, kw_only=True):
    """A stretch of the session in which one piece had one thing done to it."""

    workpiece: str
    piece: str
    """ "orchard gate: strap left 1"."""
    slot: str
    """The same without its order."""
    doing: str
    """hand, fire, rest or bench."""
    step: str
    """Id of the step; "" after the last one."""
    from_min: float
    """Since the session began."""
    to_min: float
    work_min: float
    """Of it without pauses."""


class StoodTold(Told, frozen=True, kw_only=True):
    """A stretch in which no work was counted."""

    why: str
    """ "paused", or "away" where the machine slept or was off."""
    from_min: float
    to_min: float


class TimelineTold(Told, frozen=True, kw_only=True):
    """The shown session, stretch by stretch."""

    session: str
    began: str
    began_local_s: float
    """Local time of day at its beginning, seconds since midnight."""
    length_min: float
    worked_min: float
    hand_min: float
    bench_min: float
    fire_min: float
    """Time in which anything was in the fire."""
    lit_min: float
    idle_share: float | None
    """Share of the worked time with nothing in hand and nothing at the bench."""
    spans: tuple[SpanTold, ...]
    stood: tuple[StoodTold, ...]


class NextHeats(Told, frozen=True, kw_only=True):
    """Heats that the next piece most often takes."""

    heats: int
    low_heats: int
    high_heats: int
    records: int
    """From so many pieces of the smith's own."""


class NextTime(Told, frozen=True, kw_only=True):
    """Time that a piece most often takes once the run is steady."""

    steady_min: float
    low_min: float
    high_min: float
    records: int


class StepTold(Told, frozen=True, kw_only=True):
    """A forging step by one method."""

    recipe: str
    component: str
    component_name: str
    step: str
    do: str
    method: str
    planned_heats: int | None
    """None where the recipe plans none by this method."""
    taken_heats: tuple[int | None, ...]
    """Oldest first; None where nobody pressed or told them."""
    shared: int
    """Pieces on which a heat was shared with a neighbour step."""
    corrected: int
    """Pieces whose heats were put right afterwards."""
    spoilt: int
    """Pieces spoilt in this step; their heats are not learnt from."""
    next: NextHeats | None
    """None: not enough records yet, the plan holds."""
    in_hand: NextTime | None


class BenchTold(Told, frozen=True, kw_only=True):
    """A cold step that the recipe plans minutes for."""

    recipe: str
    component: str
    component_name: str
    step: str
    do: str
    planned_min: float
    taken_min: tuple[float, ...]
    next: NextTime | None


class FindingTold(Told, frozen=True, kw_only=True):
    """Something worth knowing."""

    kind: str
    """cycle, rest, cause, spoilt, heats or good."""
    words: str
    advice: str = ""
    """What to do about it, or what it risks."""

    @property
    def sentence(self) -> str:
        """Both."""
        return f"{self.words} {self.advice}".rstrip()


class RestTold(Told, frozen=True, kw_only=True):
    """A rest that the recipe needed, with its verdict and the sum behind it."""

    recipe: str
    workpiece: str
    piece: str
    """ "orchard gate: strap left 1"."""
    session: str
    step: str
    do: str
    until: str
    verdict: str
    """kept, unsure, short, skipped or broken."""
    normalising: bool
    matters: bool
    open: bool
    """The piece's order is open and the piece not scrapped: something can still be done."""
    hardened: bool
    """The piece has been hardened."""
    scrapped: bool
    """The piece has been scrapped since: nothing is risked any more."""
    rested_min: float | None
    needed_min: float | None
    low_min: float | None
    """By the sum at least so long, and"""
    high_min: float | None
    """at most so long."""
    section: str
    """The bar that cooled, in the book's units; "" where it is not known."""
    start_degc: int | None
    """From where the sum let it cool,"""
    to_degc: int | None
    """and to where; None where minutes were asked for."""
    medium: str
    by_sum: str
    """What the sum went by, in words: "45 mm square, about 860 degC to 480 degC in still air"."""
    degc_at_end: int | None
    broken_by: str
    risk: str
    """What it risks, or what the rest was for."""
    advice: str


class RestsTold(Told, frozen=True, kw_only=True):
    """How the rests went."""

    kept: int
    unsure: int
    short: int
    skipped: int
    broken: int
    faults: tuple[RestTold, ...]
    """Those that were not kept: lost normalising cycles first."""
    doubts: tuple[RestTold, ...]
    """Those that nobody can be sure of."""
    each: tuple[RestTold, ...] = ()
    """Every rest of the pieces that the shown session or a fault speaks of, piece by piece."""


class PairLineTold(Told, frozen=True, kw_only=True):
    """One measure of one step over all pieces."""

    step: str
    do: str
    measure: str
    """heats, work (s), rest (s) or gauge (mm)."""
    values: tuple[float | None, ...]
    shown: tuple[str, ...]
    """The same in words."""
    unlike: int | None
    differs: str
    """ "right: 2 heats more"; "" where none differs."""


class PairTold(Told, frozen=True, kw_only=True):
    """Alike pieces of one order, side by side."""

    order: str
    title: str
    """ "orchard gate: strap"."""
    pieces: tuple[str, ...]
    """What each is called within the set: "left", "2, remade"."""
    workpieces: tuple[str, ...]
    master: str
    """What the master piece is called; "" where nothing was read off a gauge."""
    lines: tuple[PairLineTold, ...]


class RemakeTold(Told, frozen=True, kw_only=True):
    """A piece that was spoilt."""

    recipe: str
    workpiece: str
    piece: str
    step: str
    do: str
    why: str
    remade_as: str
    """Id of the piece made in its stead; "" where none was."""
    open: bool
    """Its order is open."""
    in_shown: bool
    """It happened in the shown session."""


class TroubleTold(Told, frozen=True, kw_only=True):
    """A piece that had trouble and was worked on."""

    recipe: str
    workpiece: str
    piece: str
    words: str


class UnusualTold(Told, frozen=True, kw_only=True):
    """A piece that took unusually many or few heats: a question, not a blame."""

    recipe: str
    workpiece: str
    piece: str
    step: str
    do: str
    method: str
    taken_heats: int
    usual_heats: float


class AskHeats(Told, frozen=True, kw_only=True):
    """Heats that nobody pressed, to be told afterwards."""

    recipe: str
    workpiece: str
    step: str
    words: str
    """ "orchard gate: strap left 1, roll the eye"."""
    choices: tuple[str, ...]
    """ "1", "2", "3", "4", "more"; after "more" ask again with `more_heats`."""


class Review(Told, frozen=True, kw_only=True):
    """All that a review tells."""

    first: str
    """The one thing worth knowing."""
    findings: tuple[FindingTold, ...]
    """What is worth knowing, that one thing first."""
    practice: bool
    shown_session: str
    """The session looked at closely; "" where there is none."""
    sessions: tuple[SessionTold, ...]
    timeline: TimelineTold | None
    recipes: dict[str, str]
    """Names of the recipes told of, by id."""
    steps: tuple[StepTold, ...]
    bench: tuple[BenchTold, ...]
    rests: RestsTold
    pairs: tuple[PairTold, ...]
    remakes: tuple[RemakeTold, ...]
    troubles: tuple[TroubleTold, ...]
    unusual: tuple[UnusualTold, ...]
    to_put_right: tuple[AskHeats, ...]


class LeftOut(Told, frozen=True, kw_only=True):
    """How much of the past a review counts but does not list."""

    sessions: int = 0
    faults: int = 0
    """Rests that were not kept."""
    doubts: int = 0
    """Rests that nobody can be sure of."""
    remakes: int = 0
    """Pieces that were spoilt."""
    orders: int = 0
    """Orders whose pairs and sets are not told of."""


class LookedBack(Told, frozen=True, kw_only=True):
    """A review that lists only what is new or still open, and counts what is older."""

    review: Review
    left: LeftOut
