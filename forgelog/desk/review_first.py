"""The first line of a review: the one thing worth knowing."""

from __future__ import annotations

import math
from collections.abc import Sequence

from forgelog.desk.review_facts import RemakeTold, RestTold, SessionTold, StepTold
from forgelog.desk.review_words import counted

NOTHING_YET = "No work at the fire is written down yet."
NOTHING_ODD = "Nothing stands out: rests kept, nothing spoilt, heats about as planned."

METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "by power hammer",
    "press": "under the press",
}


def first_line(
    sessions: Sequence[SessionTold],
    faults: Sequence[RestTold],
    remakes: Sequence[RemakeTold],
    steps: Sequence[StepTold],
) -> str:
    """Lost normalising cycles; else remakes; else rests not kept; else heats far from the plan.

    Args:
        sessions: All that are told of.
        faults: Rests that were not kept and that still matter, gravest first.
        remakes: Pieces spoilt that still matter, the latest first.
        steps: Forging steps with what they most often take.
    """
    if not sessions:
        return NOTHING_YET
    cycles = [rest for rest in faults if rest.normalising]
    if cycles:
        return _cycles(cycles)
    if remakes:
        return _remakes(remakes)
    if faults:
        return _rests(faults)
    furthest = max(steps, key=lambda s: (_off(s), len(s.taken_heats)), default=None)
    return _heats(furthest) if furthest is not None and _off(furthest) else NOTHING_ODD


def _cycles(cycles: list[RestTold]) -> str:
    first = cycles[0]
    skipped = sum(rest.verdict == "skipped" for rest in cycles)
    number, does = (skipped, "was skipped") if skipped else (len(cycles), "does not count")
    what = f"A normalising cycle {does}"
    if number > 1:
        does = "were skipped" if skipped else "do not count"
        what = f"{number} normalising cycles {does}"
    words = f"{what}: {first.piece}, {first.do}. It risks {first.risk}."
    return f"{words} {first.advice}".rstrip()


def _remakes(remakes: Sequence[RemakeTold]) -> str:
    first = remakes[0]
    again = sum(bool(remake.remade_as) for remake in remakes)
    what = f"{counted(len(remakes), 'piece')} spoilt, {again or 'none'} of them made again"
    if len(remakes) == 1:
        what = "A piece was spoilt and made again" if again else "A piece was spoilt"
    last = "" if len(remakes) == 1 else "the last: "
    return f"{what}: {last}{first.piece}, {first.do}{f': {first.why}' if first.why else ''}."


def _rests(faults: Sequence[RestTold]) -> str:
    first = faults[0]
    rests = "1 rest was" if len(faults) == 1 else f"{len(faults)} rests were"
    gravest = "" if len(faults) == 1 else "first to see to: "
    risk = f"{first.risk[0].upper()}{first.risk[1:]}"
    return f"{rests} not kept; {gravest}{first.piece}, {first.do} ({first.verdict}). {risk}."


def _heats(step: StepTold) -> str:
    if step.next is None or step.planned_heats is None:
        return NOTHING_ODD
    told = step.next
    reach = f"{told.low_heats} to {told.high_heats}, about {told.heats}"
    if told.low_heats == told.high_heats:
        reach = str(told.heats)
    return (
        f"{step.component_name}, {step.do} {METHOD_WORDS.get(step.method, step.method)}: planned "
        f"{counted(step.planned_heats, 'heat')}, yours most often {reach} "
        f"(from {told.records} of yours)."
    )


def _off(step: StepTold) -> float:
    """How far the heats are from the plan; 0 where they differ by less than a whole heat."""
    if step.next is None or not step.planned_heats or step.next.heats == step.planned_heats:
        return 0.0
    return abs(math.log(step.next.heats / step.planned_heats))
