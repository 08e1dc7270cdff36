"""What the journal teaches: every recipe, the open suggestions and those that were answered."""

from __future__ import annotations

import hashlib
import math
from contextlib import suppress

from forgelog.book.index_catching_up import Report
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.learn_by_recipe import RecipeTeller
from forgelog.desk.learn_told import Answered, Learnings
from forgelog.desk.review_read import Past, past_of, whole_past
from forgelog.desk.shop import Shop
from forgelog.learn.heats import how_early
from forgelog.learn.suggest import HEATS, Grounds, suggest
from forgelog.recipe.method_words import METHOD_WORDS
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.resolved import Recipe
from forgelog.work.state import SuggestionAnswer


def learnings_of(
    shop: Shop,
    recipe: str | None = None,
    *,
    clock: Clock | None = None,
    report: Report | None = None,
) -> Learnings:
    """All that the journal teaches.

    Args:
        shop: The book.
        recipe: Tells of this recipe alone, by id; None tells of all.
        clock: Of this machine where None.
        report: Told of the progress, where the index has to be caught up.

    Raises:
        CannotDo: the book neither has nor ever had a recipe of that id.
    """

    def tell(index: Index) -> Learnings:
        if recipe:
            return learnings_from(shop, past_of(index, None), recipe)
        return index.once(
            "learnings",
            _hangs_on(shop),
            Learnings,
            # Read anew: what is kept must not be older than the index that it is kept with.
            lambda: learnings_from(shop.again(), past_of(index, None)),
        )

    return ask_index(shop, tell, at=(clock or RealClock()).stamp(), report=report)


def _hangs_on(shop: Shop) -> str:
    """All that learnings hang on beside the journal: the recipes as they are now, the settings."""
    told = hashlib.sha256(b"practice" if shop.is_practice_copy else b"")
    for path in (shop.book / "shop.toml", *sorted((shop.book / "recipes").glob("*.toml"))):
        with suppress(OSError):
            told.update(path.name.encode("utf-8", "surrogateescape") + path.read_bytes())
    return told.hexdigest()


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
    teller = RecipeTeller(past, grounds)
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
