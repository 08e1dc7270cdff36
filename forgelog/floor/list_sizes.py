"""Lists of gauges and of sizes that were read off."""

from __future__ import annotations

from forgelog.floor.choices import Choice, Made, piece_of, to
from forgelog.floor.names import short_name, step_title
from forgelog.floor.settings import FloorSettings
from forgelog.floor.stand import Listing
from forgelog.units import show_length
from forgelog.work.facts import (
    Gauged,
)
from forgelog.work.moments import Moment
from forgelog.work.queries import steps_of
from forgelog.work.state import (
    FIRE,
    SCRAPPED,
    State,
)


def gauges(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """Sizes that can be read off on pieces that have been begun."""
    choices = []
    for piece in sorted(state.pieces.values(), key=lambda p: (-p.since_s, p.id)):
        if not piece.begun or piece.place in (SCRAPPED, FIRE):
            continue
        steps = steps_of(state, piece)[: piece.step + 1]
        sizes = [gauge.what for step in steps for gauge in step.gauges]
        for step in steps:
            for number, gauge in enumerate(step.gauges):
                at = f", {step_title(step)}" if sizes.count(gauge.what) > 1 else ""
                choices.append(
                    Choice(
                        words=f"{short_name(state, piece, exact=True)}: {gauge.what}{at}",
                        opens=to("sizes", piece.id, f"{step.id}:{number}"),
                    )
                )
    return "which size?", tuple(choices[:24])


def sizes(listing: Listing, state: State, now: Moment, settings: FloorSettings) -> Made:
    """The size and its neighbours, nearest first."""
    piece = piece_of(listing, state)
    step_id, _, number = listing.detail.rpartition(":")
    step = next(s for s in steps_of(state, piece) if s.id == step_id)
    gauge = step.gauges[int(number)]
    by, drawn = 0.5, gauge.mm
    if settings.units != "mm":
        # What is read off an inch rule lies on its marks, whatever the drawing says.
        by = 25.4 / 32
        drawn = by * round(gauge.mm / by)
    offsets = (0, 1, -1, 2, -2, 3, -3, 4, -4, 6, -6, 8, -8)
    choices = []
    for offset in offsets:
        mm = drawn + offset * by
        if mm <= 0:
            continue
        fits = -gauge.minus_mm - 0.01 <= mm - gauge.mm <= gauge.plus_mm + 0.01 or offset == 0
        choices.append(
            Choice(
                words=show_length(mm, settings.units, fine=True) + ("" if fits else ": outside"),
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
