"""Suggestions that the smith answers: taken up, declined, asked again."""

from __future__ import annotations

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.learn_told import Learnings
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.learn.suggest import Suggestion
from forgelog.recipe.plain import did_you_mean, quoted
from forgelog.work.facts import SuggestionAccepted, SuggestionDeclined, SuggestionReopened


def take_up(shop: Shop, suggestion: Suggestion, *, clock: Clock | None = None) -> None:
    """Take a suggestion up: heats are the book's own figure from now on; nothing else changes.

    Args:
        shop: The book; open it again afterwards.
        suggestion: As it was made.
        clock: Of this machine where None.

    Raises:
        CannotDo: the disk does not take it.
    """
    write_down(
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
        clock=clock,
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
    write_down(
        shop,
        SuggestionDeclined(
            suggestion=suggestion.id,
            what=suggestion.what,
            recipe=suggestion.recipe,
            component=suggestion.component,
            step=suggestion.step,
            method=suggestion.method,
        ),
        clock=clock,
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
    write_down(shop, SuggestionReopened(suggestion=suggestion), clock=clock)


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
