"""What is worth knowing, the gravest first: the first line of a review, and what follows it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from forgelog.desk.review_facts import FindingTold, RemakeTold, RestTold, SessionTold, StepTold
from forgelog.desk.review_words import counted

NOTHING_YET = "No work at the fire is written down yet."
NOTHING_DONE = "No step was done and no rest ended in it."
NOTHING_ODD = "Nothing stands out: rests kept, nothing spoilt, heats about as planned."

METHOD_WORDS = {
    "hand": "by hand",
    "striker": "with a striker",
    "power": "by power hammer",
    "press": "under the press",
}
AGAIN_AND_AGAIN = 3
"""So many pieces one after the other over the plan are no accident."""
MOST_STEPS = 3
"""Steps over their plan that are told of."""


def find(
    sessions: Sequence[SessionTold],
    faults: Sequence[RestTold],
    causes: Sequence[FindingTold],
    remakes: Sequence[RemakeTold],
    steps: Sequence[StepTold],
    *,
    lesson: str = "",
    good: str = "",
    worked: bool = True,
) -> tuple[FindingTold, ...]:
    """What is worth knowing, ranked.

    Lost normalising cycles, those of pieces that are not hardened yet first; rests that matter and
    were not kept; a cause that spoilt work more than once; pieces spoilt; steps that take more
    heats than planned again and again; rests that are only noted; what was good.

    Args:
        sessions: All that are told of.
        faults: Rests that were not kept and that still matter, gravest first.
        causes: What spoilt work more than once, the latest first.
        remakes: Pieces spoilt that still matter, the latest first.
        steps: Forging steps with what they most often take.
        lesson: What lost cycles led to before, by the smith's own record.
        good: What was good in the shown session.
        worked: False where nothing was done in all that is told of.
    """
    if not sessions:
        return ()
    cycles = sorted((rest for rest in faults if rest.normalising), key=lambda r: r.hardened)
    grave = [rest for rest in faults if rest.matters and not rest.normalising]
    noted = [rest for rest in faults if not rest.matters]
    often = _over_again_and_again(steps)
    found = [
        *([_cycles(cycles, lesson)] if cycles else ()),
        *([_rests(grave)] if grave else ()),
        *causes,
        *([_remakes(remakes)] if remakes else ()),
        *(_heats(step, often=True) for step in often),
        *([_rests(noted)] if noted else ()),
    ]
    if not found:
        furthest = max(steps, key=lambda s: (_off(s), _records(s)), default=None)
        if furthest is not None and _off(furthest):
            found.append(_heats(furthest))
    if not found:
        found.append(FindingTold(kind="good", words=NOTHING_ODD if worked else NOTHING_DONE))
    if good:
        found.append(FindingTold(kind="good", words=good))
    return tuple(found)


def _cycles(cycles: list[RestTold], lesson: str) -> FindingTold:
    first = cycles[0]
    skipped = sum(rest.verdict == "skipped" for rest in cycles)
    number, does = (skipped, "was skipped") if skipped else (len(cycles), "does not count")
    what = f"A normalising cycle {does}"
    if number > 1:
        does = "were skipped" if skipped else "do not count"
        what = f"{number} normalising cycles {does}"
    words = f"{what}: {first.piece}, {first.do}."
    return FindingTold(
        kind="cycle",
        words=words,
        advice=f"It risks {first.risk}. {first.advice} {lesson}".rstrip().replace("  ", " "),
    )


def _remakes(remakes: Sequence[RemakeTold]) -> FindingTold:
    first = remakes[0]
    again = sum(bool(remake.remade_as) for remake in remakes)
    what = f"{counted(len(remakes), 'piece')} spoilt, {again or 'none'} of them made again"
    if len(remakes) == 1:
        what = "A piece was spoilt and made again" if again else "A piece was spoilt"
    last = "" if len(remakes) == 1 else "the last: "
    why = f": {first.why}" if first.why else ""
    return FindingTold(kind="spoilt", words=f"{what}: {last}{first.piece}, {first.do}{why}.")


def _rests(faults: Sequence[RestTold]) -> FindingTold:
    first = faults[0]
    rests = "1 rest was" if len(faults) == 1 else f"{len(faults)} rests were"
    gravest = "" if len(faults) == 1 else "first to see to: "
    risk = f"{first.risk[0].upper()}{first.risk[1:]}"
    return FindingTold(
        kind="rest",
        words=f"{rests} not kept; {gravest}{first.piece}, {first.do} ({first.verdict}).",
        advice=f"{risk}.",
    )


def _heats(step: StepTold, *, often: bool = False) -> FindingTold:
    told = step.next
    assert told is not None
    assert step.planned_heats is not None
    reach = f"{told.low_heats} to {told.high_heats}, about {told.heats}"
    if told.low_heats == told.high_heats:
        reach = str(told.heats)
    return FindingTold(
        kind="heats",
        words=f"{step.component_name}, {step.do} {METHOD_WORDS.get(step.method, step.method)}: "
        f"planned {counted(step.planned_heats, 'heat')}, yours most often {reach} "
        f"(from {told.records} of yours).",
        advice=f"Plan {told.heats}, or find what takes the extra heats." if often else "",
    )


def _over_again_and_again(steps: Sequence[StepTold]) -> list[StepTold]:
    """Steps whose last pieces all took more than planned, the most heats lost first."""
    over: list[tuple[int, StepTold]] = []
    for step in steps:
        known = [heats for heats in step.taken_heats if heats is not None]
        planned, last = step.planned_heats, known[-AGAIN_AND_AGAIN:]
        if planned is None or step.next is None or len(last) < AGAIN_AND_AGAIN:
            continue
        if min(last) > planned and step.next.heats > planned:
            over.append((sum(last) - len(last) * planned, step))
    return [step for _, step in sorted(over, key=lambda pair: -pair[0])][:MOST_STEPS]


def _records(step: StepTold) -> int:
    return step.next.records if step.next is not None else 0


def _off(step: StepTold) -> float:
    """How far the heats are from the plan; 0 where they differ by less than a whole heat."""
    if step.next is None or not step.planned_heats or step.next.heats == step.planned_heats:
        return 0.0
    return abs(math.log(step.next.heats / step.planned_heats))
