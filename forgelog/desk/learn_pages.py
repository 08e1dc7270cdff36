"""What the journal teaches, in words: a page a suggestion, and a page a recipe."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.desk.learn_told import (
    ComponentLearnt,
    Learnings,
    RecipeLearnt,
    RestsLearnt,
    StepLearnt,
    TimeLearnt,
)
from forgelog.desk.review_words import counted, cut, folded
from forgelog.learn.suggest import Suggestion, range_words
from forgelog.recipe.method_words import METHOD_WORDS

NOT_ENOUGH = "not enough yet"
MOST_OFTEN = "A range is what happens most often, never an exact chance."
NOTHING = "Nothing has been worked yet: not enough to learn from."


class LearnPage(msgspec.Struct, frozen=True, kw_only=True):
    """A page; a suggestion or an answer on it can be dealt with by a key."""

    title: str
    lines: tuple[str, ...]
    suggestion: Suggestion | None = None
    answered: str = ""
    """Id of an answer that can be taken back."""


def write_learn_pages(learnings: Learnings, width: int) -> tuple[LearnPage, ...]:
    """Suggestions first, then recipe by recipe, then what was answered.

    Args:
        learnings: What is told.
        width: Columns that no line is to exceed.
    """
    many = len(learnings.suggestions)
    pages = [
        LearnPage(
            title=f"SUGGESTION {n} OF {many}",
            lines=tuple(suggestion_lines(suggestion, width)),
            suggestion=suggestion,
        )
        for n, suggestion in enumerate(learnings.suggestions, 1)
    ]
    pages += [
        LearnPage(
            title=cut(f"LEARNT · {recipe.name}", width), lines=tuple(recipe_lines(recipe, width))
        )
        for recipe in learnings.recipes
    ]
    pages += [
        LearnPage(
            title="YOUR OWN FIGURE" if answer.accepted else "NOT TO BE SUGGESTED",
            lines=tuple(folded(answer.words, width)),
            answered=answer.suggestion,
        )
        for answer in learnings.answered
    ]
    return tuple(pages)


def first_words(learnings: Learnings) -> str:
    """The one thing worth knowing: how much there is, and what it says of first pieces."""
    if not learnings.records:
        return NOTHING
    words = f"From {counted(learnings.records, 'record')} of heats of yours."
    times = learnings.first_piece_times
    if times is not None and times >= 1.05:
        words += f" The first piece of a run takes about {times:.1f} times the heats of its fifth."
    open_words = counted(len(learnings.suggestions), "suggestion")
    return f"{words} {open_words} to answer." if learnings.suggestions else words


def suggestion_lines(suggestion: Suggestion, width: int) -> Iterator[str]:
    """A suggestion with its evidence, and the line that may be copied into the recipe."""
    words = suggestion.words[:1].upper() + suggestion.words[1:]
    yield from folded(f"{words}.", width)
    yield ""
    yield from folded(f"Evidence: {suggestion.evidence}.", width)
    if suggestion.toml:
        yield ""
        yield from folded("To change the recipe itself, copy this line into its file:", width)
        yield cut(f"    {suggestion.toml}", width)
    yield ""
    yield cut(f"id: {suggestion.id}", width)


def recipe_lines(recipe: RecipeLearnt, width: int) -> Iterator[str]:
    """A recipe: every component, every step, every rest."""
    for n, component in enumerate(recipe.components):
        if n:
            yield ""
        yield cut(component.name.upper(), width)
        yield from _component_lines(component, width)
    yield ""
    yield from folded(MOST_OFTEN, width)


def _component_lines(component: ComponentLearnt, width: int) -> Iterator[str]:
    if not (component.steps or component.rests):
        yield "  nothing that is counted in heats or minutes"
    for step in component.steps:
        yield from _step_lines(step, width)
    for rest in component.rests:
        yield from folded(f"{rest.do}: {rest_words(rest)}", width, "  ")


def _step_lines(step: StepLearnt, width: int) -> Iterator[str]:
    method = f", {METHOD_WORDS.get(step.method, step.method)}" if step.method else ""
    yield from folded(f"{step.do}{method}: {_plan_words(step)}", width, "  ")
    if step.planned_heats is not None:
        yield from folded(_heats_words(step), width, "      ")
    elif step.method:
        yield from folded(f"the recipe plans no heats {method[2:]}: {NOT_ENOUGH}", width, "      ")
    times = [
        f"{words} {time_words(time)}"
        for words, time in (
            ("in hand", step.in_hand),
            ("in the fire", step.in_fire),
            ("at the bench", step.at_bench),
        )
        if time is not None
    ]
    if times:
        yield from folded("; ".join(times), width, "      ")
    elif not step.method:
        yield from folded(NOT_ENOUGH, width, "      ")
    for odd in step.odd:
        why = f" ({odd.why})" if odd.why else ""
        words = (
            f"odd: {odd.piece}, {odd.day}: {counted(odd.taken_heats, 'heat')}, "
            f"usually about {odd.usual_heats:g}{why}"
        )
        yield from folded(words, width, "      ")


def _plan_words(step: StepLearnt) -> str:
    if step.planned_heats is None:
        return f"the recipe plans {step.planned_min:g} min" if step.planned_min else "no plan"
    words = f"the recipe plans {step.planned_heats}"
    return f"{words}, your own figure {step.own_heats}" if step.own_heats else words


def _heats_words(step: StepLearnt) -> str:
    heats = step.heats
    if heats is None:
        return f"heats: {NOT_ENOUGH}"
    words = f"heats: {heats.heats} ({range_words(heats.low_heats, heats.high_heats)})"
    if heats.first_heats != heats.heats:
        words += f", the first of a run {heats.first_heats}"
    return f"{words}, from {heats.records} of yours"


def time_words(time: TimeLearnt) -> str:
    """ "2.1 min (1.4 to 3.0), the first 2.9"."""
    words = f"{time.steady_min:.1f} min ({time.low_min:.1f} to {time.high_min:.1f})"
    if f"{time.first_min:.1f}" != f"{time.steady_min:.1f}":
        words += f", the first {time.first_min:.1f}"
    return words


def rest_words(rest: RestsLearnt) -> str:
    """ "kept 5, unsure 1, short 2"."""
    counts = (
        ("kept", rest.kept),
        ("unsure", rest.unsure),
        ("short", rest.short),
        ("skipped", rest.skipped),
        ("broken", rest.broken),
    )
    return ", ".join(f"{word} {count}" for word, count in counts if count)
