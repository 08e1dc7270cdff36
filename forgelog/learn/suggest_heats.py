"""Suggestions of heats: another plan for a step, and what the first piece of a run takes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from forgelog.learn.heats import HeatRecord, LearntSteps, how_early, whole_heats
from forgelog.learn.student import quantile_90
from forgelog.learn.suggest import FIRST, HEATS, Grounds, Suggestion, range_words
from forgelog.recipe.method_words import METHOD_WORDS
from forgelog.recipe.resolved import FORGING_KINDS

LEAST_PIECES = 3
"""With fewer pieces of the smith's own no other plan is suggested."""
LEAST_RUNS = 4
"""First pieces, and pieces after them, that must be there before their extra is told."""


def suggest_heats(grounds: Grounds, learnt: LearntSteps) -> Iterator[Suggestion]:
    """Another number of planned heats, where the smith's own pieces say so nine times in ten.

    Made where three pieces or more are there, and even the near end of what the usual piece takes
    (its scatter left out) is another whole number than the one that is planned. The one that moved
    furthest comes first.
    """
    yield from sorted(_heats_found(grounds, learnt), key=lambda s: (-_moved(s), s.id))


def _moved(suggestion: Suggestion) -> float:
    """How far the figure moves from the plan, logarithmic."""
    return abs(math.log((suggestion.heats or 1) / (suggestion.planned or 1)))


def _heats_found(grounds: Grounds, learnt: LearntSteps) -> Iterator[Suggestion]:
    for recipe in grounds.recipes.values():
        for component in recipe.components:
            for step in component.steps:
                if step.kind not in FORGING_KINDS:
                    continue
                for method, planned in step.heats.items():
                    key = (recipe.id, component.id, step.id, method)
                    heats = learnt.ask(key, planned)
                    holds = grounds.own_heats(key) or planned
                    usual = learnt.learnt.expect(key, scatter=0.0)
                    ends = (usual.mean - usual.reach, usual.mean + usual.reach)
                    low, high = (whole_heats(planned * math.exp(end)) for end in ends)
                    if heats.records < LEAST_PIECES or low <= holds <= high:
                        continue
                    words = (
                        f"plan {_heats(heats.shown)}, not {holds}, for "
                        f"{grounds.do_words(component, step)} {METHOD_WORDS.get(method, method)}"
                    )
                    yield Suggestion(
                        id=f"{HEATS}/{recipe.id}/{component.id}/{step.id}/{method}",
                        what=HEATS,
                        recipe=recipe.id,
                        component=component.id,
                        step=step.id,
                        method=method,
                        words=words,
                        evidence=(
                            f"{heats.records} pieces of yours; the next takes "
                            f"{range_words(heats.shown_low, heats.shown_high)}"
                        ),
                        heats=heats.shown,
                        planned=planned,
                        toml=_line({**step.heats, method: heats.shown}),
                    )


def suggest_first(records: Sequence[HeatRecord], learnt_steps: LearntSteps) -> Iterator[Suggestion]:
    """What the first piece of a run takes extra, where it is surely more than nothing."""
    firsts = sum(r.run == 1 for r in records)
    later = sum(r.run > 1 for r in records)
    if min(firsts, later) < LEAST_RUNS:
        return
    learnt = learnt_steps.learnt
    sure = quantile_90(learnt.df) * math.sqrt(learnt.extra_var)
    times = math.exp(learnt.extra * (how_early(1) - how_early(5)))
    if learnt.extra <= sure or times < 1.1:
        return
    yield Suggestion(
        id=FIRST,
        what=FIRST,
        recipe="",
        words=(
            f"the first piece of a run takes you about {times:.1f} times the heats of the fifth: "
            "quote and plan single pieces so"
        ),
        evidence=f"{firsts} first pieces at a step and {later} later ones",
    )


def _heats(count: int) -> str:
    return "1 heat" if count == 1 else f"{count} heats"


def _line(heats: dict[str, int]) -> str:
    pairs = ", ".join(f"{method} = {count}" for method, count in heats.items())
    return f"heats = {{ {pairs} }}"
