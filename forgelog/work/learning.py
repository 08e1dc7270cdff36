"""Answers to suggestions, and the book's own figures that come of them."""

from __future__ import annotations

from forgelog.work.changes import CannotBe, replace
from forgelog.work.facts import SuggestionAccepted, SuggestionDeclined, SuggestionReopened
from forgelog.work.state import State, SuggestionAnswer

MOST_HEATS = 99


def suggestion_accepted(state: State, fact: SuggestionAccepted) -> State:
    """It is taken up; the newest answer holds."""
    if fact.heats is not None and not 1 <= fact.heats <= MOST_HEATS:
        raise CannotBe(f"{fact.heats} heats cannot be planned")
    return _answered(
        state,
        SuggestionAnswer(
            suggestion=fact.suggestion,
            accepted=True,
            what=fact.what,
            recipe=fact.recipe,
            component=fact.component,
            step=fact.step,
            method=fact.method,
            heats=fact.heats,
            instead_of=fact.instead_of,
            at_s=state.moment.rest_s,
        ),
    )


def suggestion_declined(state: State, fact: SuggestionDeclined) -> State:
    """It is not wanted."""
    return _answered(
        state,
        SuggestionAnswer(
            suggestion=fact.suggestion,
            accepted=False,
            what=fact.what,
            recipe=fact.recipe,
            component=fact.component,
            step=fact.step,
            method=fact.method,
            at_s=state.moment.rest_s,
        ),
    )


def suggestion_reopened(state: State, fact: SuggestionReopened) -> State:
    """It has no answer any more; one that has none already stays so."""
    left = {i: a for i, a in state.answers.items() if i != fact.suggestion}
    return replace(state, answers=left)  # type: ignore[no-any-return]


def own_heats(state: State) -> dict[tuple[str, str, str, str], int]:
    """The planned heats that the smith took up, by recipe, component, step and method."""
    return {
        (a.recipe, a.component, a.step, a.method): a.heats
        for a in state.answers.values()
        if a.accepted and a.heats is not None
    }


def _answered(state: State, answer: SuggestionAnswer) -> State:
    if not answer.suggestion:
        raise CannotBe("an answer names its suggestion")
    answers = {**state.answers, answer.suggestion: answer}
    return replace(state, answers=answers)  # type: ignore[no-any-return]
