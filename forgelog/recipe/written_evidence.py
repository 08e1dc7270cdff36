"""What a shared recipe carries beside the process: its checksum, and what its sharer's log says.

forgelog writes these tables when a recipe is shared (`forgelog share`). None of them says for whom
or when something was made.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta

from forgelog.recipe.written_words import Id, Minutes, Name, SectionText, Written

MOST_PIECES = 99_999
"""More pieces than anybody has made are no evidence."""

Pieces = Annotated[int, Meta(title="pieces", ge=0, le=MOST_PIECES)]
HeatsTaken = Annotated[int, Meta(title="heats", ge=1, le=99)]
Day = Annotated[
    str, Meta(title="date", pattern="^[0-9]{4}-[0-9]{2}-[0-9]{2}$", examples=["2026-05-01"])
]
Way = Literal["hand", "striker", "power", "press"]


class WrittenShared(Written, frozen=True, kw_only=True):
    """Where a shared recipe comes from, under `[shared]`."""

    process: Annotated[
        str,
        Meta(
            title="checksum",
            description="Over the process: shows whether it was changed since it was shared.",
            pattern="^[0-9a-f]{16}$",
        ),
    ]
    by: Annotated[Name | None, Meta(description="Who shared it, where they say so.")] = None
    on: Annotated[Day | None, Meta(description="When, where they say so.")] = None
    practice: Annotated[
        bool, Meta(description="true where the records are of practice, not of real work.")
    ] = False


class WrittenHeatsTaken(Written, frozen=True, kw_only=True):
    """Heats that a step took."""

    least: Annotated[HeatsTaken, Meta(description="No more in one piece of ten.")]
    middle: Annotated[HeatsTaken, Meta(description="No more in half of them.")]
    most: Annotated[HeatsTaken, Meta(description="No more in nine of ten.")]


class WrittenTimeTaken(Written, frozen=True, kw_only=True):
    """Time in hand or at the bench that a step took."""

    least: Annotated[Minutes, Meta(description="No more in one piece of ten.")]
    middle: Annotated[Minutes, Meta(description="No more in half of them.")]
    most: Annotated[Minutes, Meta(description="No more in nine of ten.")]


class WrittenTaken(Written, frozen=True, kw_only=True):
    """What a step took by one method, under `[[evidence.steps]]`."""

    component: Annotated[Id, Meta(description="The component's id.")]
    step: Annotated[Name, Meta(description="The step's id, or its `do` with dashes.")]
    by: Annotated[Way | None, Meta(description="The method; none for cold work.")] = None
    pieces: Annotated[Pieces, Meta(description="How many pieces went through it.")]
    heats: Annotated[WrittenHeatsTaken | None, Meta(description="Heats of a piece.")] = None
    time: Annotated[
        WrittenTimeTaken | None, Meta(description="Time in hand or at the bench of a piece.")
    ] = None
    sections: Annotated[
        list[SectionText], Meta(description="Sections that were worked.", max_length=12)
    ] = []
    fires: Annotated[
        list[Literal["gas", "coke", "charcoal"]],
        Meta(description="Sorts of fire.", max_length=3),
    ] = []


class WrittenRested(Written, frozen=True, kw_only=True):
    """How a rest was kept, under `[[evidence.rests]]`."""

    component: Annotated[Id, Meta(description="The component's id.")]
    step: Annotated[Name, Meta(description="The id of the rest.")]
    pieces: Annotated[Pieces, Meta(description="How many pieces needed it.")]
    kept: Annotated[Pieces, Meta(description="Of those, kept.")] = 0
    unsure: Annotated[Pieces, Meta(description="Perhaps kept: the sum cannot tell.")] = 0
    short: Annotated[Pieces, Meta(description="Cut short.")] = 0
    skipped: Annotated[Pieces, Meta(description="Skipped.")] = 0


class WrittenSpoilt(Written, frozen=True, kw_only=True):
    """Pieces that were spoilt in a step, under `[[evidence.spoilt]]`."""

    component: Annotated[Id, Meta(description="The component's id.")]
    step: Annotated[Name, Meta(description="The step in which it happened.")]
    why: Annotated[Name, Meta(description="The cause.", examples=["burnt"])]
    pieces: Annotated[Pieces, Meta(description="How many.")]


class WrittenEvidence(Written, frozen=True, kw_only=True):
    """What the sharer's records say, under `[evidence]`."""

    steps: Annotated[
        list[WrittenTaken], Meta(description="What the steps took.", max_length=2000)
    ] = []
    rests: Annotated[
        list[WrittenRested], Meta(description="How the rests were kept.", max_length=2000)
    ] = []
    spoilt: Annotated[
        list[WrittenSpoilt], Meta(description="What was spoilt, and why.", max_length=2000)
    ] = []
