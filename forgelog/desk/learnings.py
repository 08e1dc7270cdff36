"""What the journal teaches: heats, minutes, rests and odd pieces by step; suggestions, answered."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

import msgspec

from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.learn_told import (
    Answered,
    ComponentLearnt,
    HeatsLearnt,
    Learnings,
    OddPiece,
    RecipeLearnt,
    RestsLearnt,
    StepLearnt,
    TimeLearnt,
)
from forgelog.desk.learnt import ENOUGH_RECORDS
from forgelog.desk.review_read import Past, whole_past
from forgelog.desk.review_words import local_time, minutes, row_piece, row_rest, step_words
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.learn.heats import HeatRecord, LearntSteps, how_early, learn_heats
from forgelog.learn.known_minutes import KnownMinutes, know_minutes
from forgelog.learn.minutes import RunTime
from forgelog.learn.records import heat_records
from forgelog.learn.rows import AGAIN, RestRow, StepRow
from forgelog.learn.rule import StepKey
from forgelog.learn.suggest import HEATS, METHOD_WORDS, Grounds, Suggestion, suggest
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.resolved import FORGING_KINDS, METHODS, Component, Recipe, Step
from forgelog.work.facts import (
    AnyFact,
    SuggestionAccepted,
    SuggestionDeclined,
    SuggestionReopened,
)
from forgelog.work.state import SuggestionAnswer

STEADY_RUN = 10
"""A piece of this number in its run stands for a steady one."""
MOST_ODD = 3
"""Odd pieces of one step that are named."""


def learnings_of(shop: Shop, recipe: str | None = None, *, clock: Clock | None = None) -> Learnings:
    """All that the journal teaches.

    Args:
        shop: The book.
        recipe: Tells of this recipe alone, by id; None tells of all.
        clock: Of this machine where None.

    Raises:
        CannotDo: the book neither has nor ever had a recipe of that id.
    """
    return learnings_from(shop, read_past(shop, clock=clock), recipe)


def read_past(shop: Shop, *, clock: Clock | None = None) -> Past:
    """What the journal holds; the slow part of `learnings_of`, which no answer changes.

    Args:
        shop: The book.
        clock: Of this machine where None.
    """
    return whole_past(shop, None, (clock or RealClock()).stamp())


def learnings_from(shop: Shop, past: Past, recipe: str | None = None) -> Learnings:
    """All that a past teaches, with the answers that stand in the book now.

    Args:
        shop: The book, opened after the last answer.
        past: As `read_past` gave it.
        recipe: As for `learnings_of`.

    Raises:
        CannotDo: the book neither has nor ever had a recipe of that id.
    """
    asked = _asked(shop, past, recipe)
    recipes = {i: _as_now(shop, pinned) for i, pinned in past.recipes.items() if asked in ("", i)}
    grounds = Grounds(
        recipes=recipes,
        steps=past.steps,
        rests=past.rests,
        spoilt=past.spoilt,
        cuts=[cut for cut in shop.state.cuts if _usual_size(shop, cut.worked_for)],
        answers=shop.state.answers,
        units=shop.settings.shop.units,
    )
    teller = _Teller(past, grounds)
    learnt = teller.learnt.learnt
    records = sum(step.records for step in learnt.steps.values())
    times = math.exp(learnt.extra * (how_early(1) - how_early(5)))
    # Practice must not put a figure into a book of real work.
    open_ones = suggest(grounds) if shop.is_practice_copy or not past.practice else ()
    return Learnings(
        practice=past.practice,
        first_piece_times=round(times, 2) if records else None,
        records=records,
        recipes=tuple(map(teller.recipe, recipes.values())),
        suggestions=tuple(s for s in open_ones if s.recipe in ("", *recipes)),
        answered=tuple(
            _answered(answer, grounds)
            for answer in shop.state.answers.values()
            if answer.recipe in ("", *recipes)
        ),
    )


def take_up(shop: Shop, suggestion: Suggestion, *, clock: Clock | None = None) -> None:
    """Take a suggestion up: heats are the book's own figure from now on; nothing else changes.

    Args:
        shop: The book; open it again afterwards.
        suggestion: As it was made.
        clock: Of this machine where None.

    Raises:
        CannotDo: the disk does not take it.
    """
    _write(
        shop,
        SuggestionAccepted(
            suggestion=suggestion.id,
            what=suggestion.what,
            recipe=suggestion.recipe,
            component=suggestion.component,
            step=suggestion.step,
            method=suggestion.method,
            heats=suggestion.heats,
            instead_of=suggestion.planned,
        ),
        clock,
    )


def decline(shop: Shop, suggestion: Suggestion, *, clock: Clock | None = None) -> None:
    """Never make a suggestion again, until it is asked for.

    Args:
        shop: The book; open it again afterwards.
        suggestion: As it was made.
        clock: Of this machine where None.

    Raises:
        CannotDo: the disk does not take it.
    """
    _write(
        shop,
        SuggestionDeclined(
            suggestion=suggestion.id,
            what=suggestion.what,
            recipe=suggestion.recipe,
            component=suggestion.component,
            step=suggestion.step,
            method=suggestion.method,
        ),
        clock,
    )


def ask_again(shop: Shop, suggestion: str, *, clock: Clock | None = None) -> None:
    """Take the answer to a suggestion back; where it was a figure, the recipe's plan holds again.

    Args:
        shop: The book; open it again afterwards.
        suggestion: Its id.
        clock: Of this machine where None.

    Raises:
        CannotDo: it has no answer, or the disk does not take it.
    """
    if suggestion not in shop.state.answers:
        raise CannotDo(f"{quoted(suggestion)} has no answer that could be taken back")
    _write(shop, SuggestionReopened(suggestion=suggestion), clock)


def suggestion_named(learnings: Learnings, name: str) -> Suggestion:
    """The open suggestion of an id, or of a number in the list, from 1.

    Raises:
        CannotDo: there is none such; says which there are.
    """
    known = {s.id: s for s in learnings.suggestions}
    if name.isdecimal() and 1 <= int(name) <= len(known):
        return learnings.suggestions[int(name) - 1]
    if name in known:
        return known[name]
    if not known:
        raise CannotDo("there is no open suggestion; `forgelog learn` tells what is known so far")
    hint = did_you_mean(name, known)
    words = f"there is no open suggestion {quoted(name)}; name one by its number, 1 to {len(known)}"
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def _write(shop: Shop, fact: AnyFact, clock: Clock | None) -> None:
    write_down(shop, fact, clock=clock)


def _asked(shop: Shop, past: Past, recipe: str | None) -> str:
    if not recipe or recipe in past.recipes:
        return recipe or ""
    there = {f.recipe.id for f in shop.recipes if f.recipe is not None}
    if recipe in there:
        raise CannotDo(f"nothing was worked from {quoted(recipe)} yet: not enough to learn from")
    known = sorted(there | set(past.recipes))
    words = f"the book has no recipe {quoted(recipe)}"
    words += f"; it has {listed(known, 'and')}" if known else ""
    hint = did_you_mean(recipe, known)
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def _as_now(shop: Shop, pinned: Recipe) -> Recipe:
    """The recipe as its file is now, at its own sizes; as it was pinned last where that fails."""
    try:
        now = shop.resolved(pinned.id, {})
    except CannotDo:
        return pinned
    return now if now.id == pinned.id else pinned


def _usual_size(shop: Shop, order: str) -> bool:
    """Whether an order was at the recipe's own sizes, so that its cut says something of others."""
    known = shop.state.orders.get(order)
    return known is None or not known.sizes_mm


def _answered(answer: SuggestionAnswer, grounds: Grounds) -> Answered:
    found = grounds.step_at(answer.recipe, answer.component, answer.step)
    what = grounds.do_words(*found) if found else harmless(answer.suggestion)
    if answer.method:
        what += f" {METHOD_WORDS.get(answer.method, harmless(answer.method))}"
    if answer.accepted and answer.heats is not None:
        words = f"{what}: {answer.heats} heats, your own figure"
        words += f" (the recipe planned {answer.instead_of})" if answer.instead_of else ""
    else:
        kind = "heats" if answer.what == HEATS else answer.what or "this"
        words = f"{what}: {'noted' if answer.accepted else f'{kind} not to be suggested'}"
    return Answered(suggestion=answer.suggestion, accepted=answer.accepted, words=words)


class _Teller:
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


def as_json(learnings: Learnings) -> bytes:
    """The records as one JSON object."""
    return msgspec.json.format(msgspec.json.encode(learnings), indent=2)
