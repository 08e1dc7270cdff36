"""What is known of each step and rest, told recipe by recipe."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from forgelog.desk.learn_told import (
    ComponentLearnt,
    HeatsLearnt,
    OddPiece,
    RecipeLearnt,
    RestsLearnt,
    StepLearnt,
    TimeLearnt,
)
from forgelog.desk.learnt import ENOUGH_RECORDS
from forgelog.desk.review_read import Past
from forgelog.desk.review_words import local_time, minutes, row_piece, row_rest, step_words
from forgelog.learn.heats import HeatRecord, LearntSteps, learn_heats
from forgelog.learn.known_minutes import KnownMinutes, know_minutes
from forgelog.learn.minutes import STEADY_RUN, RunTime
from forgelog.learn.records import heat_records
from forgelog.learn.rows import AGAIN, RestRow, StepRow
from forgelog.learn.rule import StepKey
from forgelog.learn.suggest import Grounds
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import FORGING_KINDS, METHODS, Component, Recipe, Step

MOST_ODD = 3
"""Odd pieces of one step that are named."""


class RecipeTeller:
    """Tells what is known, recipe by recipe."""

    def __init__(self, past: Past, grounds: Grounds) -> None:
        self.past = past
        self.grounds = grounds
        records = heat_records(past.steps)
        self.learnt: LearntSteps = learn_heats(records)
        self.known: KnownMinutes = know_minutes(past.steps)
        self.records: dict[StepKey, list[HeatRecord]] = defaultdict(list)
        for record in records:
            self.records[record.step].append(record)
        self.rows: dict[tuple[str, str, str], StepRow] = {
            (row.workpiece, row.step, row.method): row for row in past.steps
        }
        self.rests: dict[tuple[str, str, str], list[RestRow]] = defaultdict(list)
        for rest in past.rests:
            self.rests[rest.place].append(rest)
        self.offsets = {session.session: session.offset_min for session in past.sessions}
        self.mishaps: dict[tuple[str, str], str] = {
            (s.workpiece, s.step): harmless(
                s.why or ("the step was done again" if s.kind == AGAIN else s.kind)
            )
            for s in past.spoilt
        }

    def recipe(self, recipe: Recipe) -> RecipeLearnt:
        """One recipe, its components in order."""
        return RecipeLearnt(
            recipe=recipe.id,
            name=harmless(recipe.name),
            components=tuple(
                ComponentLearnt(
                    component=component.id,
                    name=harmless(component.name),
                    steps=tuple(self.steps(recipe, component)),
                    rests=tuple(self.rests_of(recipe, component)),
                )
                for component in recipe.components
            ),
        )

    def steps(self, recipe: Recipe, component: Component) -> Iterator[StepLearnt]:
        """Forging steps by each method that is planned or was used; cold steps once."""
        for step in component.steps:
            place = (recipe.id, component.id, step.id)
            if step.kind in FORGING_KINDS:
                used = [m for m in METHODS if (*place, m) in self.records]
                for method in used or [m for m in METHODS if m in step.heats][:1]:
                    yield self.step((*place, method), step)
            elif step.minutes_s:
                yield self.step((*place, ""), step)

    def step(self, key: StepKey, step: Step) -> StepLearnt:
        """One step by one method."""
        planned = step.heats.get(key[3])
        steady = self.known.minutes_for(key, STEADY_RUN, 1, step)
        first = self.known.minutes_for(key, 1, 1, step)
        return StepLearnt(
            step=step.id,
            do=step_words(step, step.id, self.grounds.units),
            method=key[3],
            planned_heats=planned,
            own_heats=self.grounds.own_heats(key) if key[3] else None,
            planned_min=minutes(step.minutes_s) if step.minutes_s else None,
            heats=self.heats(key, planned) if planned else None,
            in_hand=_time(steady.hand, first.hand),
            in_fire=_time(steady.fire, first.fire),
            at_bench=_time(steady.bench, first.bench),
            odd=tuple(self.odd(key)) if key[3] else (),
        )

    def heats(self, key: StepKey, planned: int) -> HeatsLearnt | None:
        """Of the next piece; None where there is not enough yet."""
        heats = self.learnt.ask(key, planned)
        if heats.records < ENOUGH_RECORDS:
            return None
        return HeatsLearnt(
            heats=heats.shown,
            low_heats=heats.shown_low,
            high_heats=heats.shown_high,
            first_heats=self.learnt.ask(key, planned, 1).shown,
            records=heats.records,
        )

    def odd(self, key: StepKey) -> Iterator[OddPiece]:
        """The newest odd pieces of a step, with what is known of each."""
        mine = self.records.get(key, [])
        told = 0
        for i in range(len(mine) - 1, -1, -1):
            judged = self.learnt.judge(mine[i], mine[:i])
            if judged is None or not judged.flagged:
                continue
            row = self.rows[mine[i].workpiece, key[2], key[3]]
            day = local_time(row.ended_s, self.offsets.get(row.session, 0))
            yield OddPiece(
                workpiece=row.workpiece,
                piece=row_piece(row, self.past.orders),
                day=f"{day:%Y-%m-%d}",
                taken_heats=mine[i].taken,
                usual_heats=round(judged.usual, 1),
                why=self._why(row),
            )
            told += 1
            if told == MOST_ODD:
                return

    def _why(self, row: StepRow) -> str:
        known = self.mishaps.get((row.workpiece, row.step), "")
        if known:
            return known
        if row.shared:
            return "a heat was shared with the step beside it"
        return "told or put right afterwards" if row.corrected else ""

    def rests_of(self, recipe: Recipe, component: Component) -> Iterator[RestsLearnt]:
        """How each rest of a component was kept."""
        for step in component.steps:
            mine = self.rests.get((recipe.id, component.id, step.id))
            if not mine:
                continue
            counts = {
                word: sum(rest.verdict == word for rest in mine)
                for word in ("kept", "unsure", "short", "skipped", "broken")
            }
            do = row_rest(mine[-1], self.grounds.units)
            yield RestsLearnt(step=step.id, do=do, **counts)


def _time(steady: RunTime | None, first: RunTime | None) -> TimeLearnt | None:
    if steady is None or first is None:
        return None
    return TimeLearnt(
        steady_min=minutes(steady.centre_s),
        low_min=minutes(steady.low_s),
        high_min=minutes(steady.high_s),
        first_min=minutes(first.centre_s),
        records=steady.records,
    )
