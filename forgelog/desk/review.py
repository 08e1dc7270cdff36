"""The evening's look: sessions, heats, rests, what was spoilt, what is to be put right."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from forgelog.book.index_catching_up import Report
from forgelog.desk.clock import Clock, RealClock
from forgelog.desk.errors import CannotDo
from forgelog.desk.indexed import Index, ask_index
from forgelog.desk.lessons import Lessons, lessons
from forgelog.desk.order_state import state_with
from forgelog.desk.review_causes import tell_causes, tell_good, tell_lesson
from forgelog.desk.review_facts import (
    LAST_SESSIONS,
    AskHeats,
    LeftOut,
    LookedBack,
    Review,
    UnusualTold,
)
from forgelog.desk.review_first import NOTHING_YET, find
from forgelog.desk.review_heats import ask_heats, more_heats, tell_bench, tell_steps, tell_unusual
from forgelog.desk.review_pages import Page, write_pages
from forgelog.desk.review_pairs import tell_pairs
from forgelog.desk.review_pieces import tell_remakes, tell_rests, tell_troubles
from forgelog.desk.review_read import Past, past_of, shown_session
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_sessions import tell_sessions, tell_timeline
from forgelog.desk.review_sums import Sums, beside_session, sums_of_index, sums_of_rows
from forgelog.desk.shop import Shop
from forgelog.desk.writing import mend
from forgelog.learn.row_making import make_rows
from forgelog.recipe.plain import did_you_mean, harmless, listed, quoted
from forgelog.recipe.resolved import Recipe
from forgelog.units import UnitSystem
from forgelog.work.changes import replace
from forgelog.work.facts import HeatsCorrected
from forgelog.work.only import order_of
from forgelog.work.state import State

__all__ = ["look_back", "more_heats", "put_right", "review_of", "review_view"]

MOST_HEATS = 99
MOST_ORDERS = 20
"""Orders of a recipe, besides those that are open, whose pairs and rests are told one by one."""
WIDTH = 80


class ReviewView(msgspec.Struct, frozen=True, kw_only=True):
    """A review as a screen shows it: final words, in the order in which they are read."""

    first: str
    """The one thing worth knowing."""
    pages: tuple[Page, ...]
    to_put_right: tuple[AskHeats, ...]
    """What to ask for, one after the other; the answer goes to `put_right`."""
    practice: bool = False


def review_of(
    shop: Shop,
    session: str | None = None,
    recipe: str | None = None,
    *,
    clock: Clock | None = None,
    report: Report | None = None,
) -> Review:
    """All that the journal tells, as records; of all sessions it goes through every row.

    Args:
        shop: The book.
        session: Tells of this session alone: its id, its beginning, or its number in the list.
            None tells of all sessions and shows the last one closely.
        recipe: Tells of this recipe alone, by id.
        clock: Of this machine where None; rests that pass by themselves are judged by it.
        report: Told of the progress, where the index has to be caught up.

    Raises:
        CannotDo: there is no such session, or nothing was worked from that recipe.
    """
    units = shop.settings.shop.units

    def tell(index: Index) -> Review:
        past = past_of(index, session, None if session is None else _orders_of(index, session))
        scope = _scope(past, session, recipe, units)
        sums = sums_of_rows(past.steps, past.rests, scope)
        return _review(index, past, sums, scope).review

    return ask_index(shop, tell, at=(clock or RealClock()).stamp(), report=report)


def look_back(
    shop: Shop,
    session: str | None = None,
    recipe: str | None = None,
    *,
    clock: Clock | None = None,
    report: Report | None = None,
    opening: bool = False,
) -> LookedBack:
    """The same for reading: what is new or still open row by row, what is older in sums and counts.

    It takes as long in a book of ten years as in one of a month.

    Args:
        shop: The book.
        session: As for `review_of`.
        recipe: As for `review_of`.
        clock: As for `review_of`.
        report: As for `review_of`.
        opening: Tells only what the first pages want, with no minutes and no questions.

    Raises:
        CannotDo: as for `review_of`.
    """
    units = shop.settings.shop.units

    def work_out(index: Index) -> LookedBack:
        orders, left = _wanted(index, session, recipe)
        past = past_of(index, session, orders)
        scope = _scope(past, session, recipe, units)
        if session is None:
            sums = sums_of_index(index, past.practice, scope.recipe)
        else:
            sums = sums_of_rows(past.steps, past.rests, scope)
        told = _review(index, past, sums, scope, last=LAST_SESSIONS, opening=opening)
        return replace(told, left=replace(told.left, orders=left))  # type: ignore[no-any-return]

    def tell(index: Index) -> LookedBack:
        if session is not None or recipe is not None:
            return work_out(index)
        if opening and not index.has("review", str(units)):
            return work_out(index)
        return index.once("review", str(units), LookedBack, lambda: work_out(index))

    return ask_index(shop, tell, at=(clock or RealClock()).stamp(), report=report)


def _scope(past: Past, session: str | None, recipe: str | None, units: UnitSystem) -> Scope:
    return Scope(
        session=past.shown if session is not None else "",
        recipe=recipe_named(past.recipes, recipe),
        units=units,
    )


def _orders_of(index: Index, session: str | None) -> set[str]:
    """Orders of the shown session."""
    shown = shown_session({row.session: row.practice for row in index.floors}, session)
    return set(index.orders_of(shown))


def _wanted(index: Index, session: str | None, recipe: str | None) -> tuple[set[str], int]:
    """Orders whose rows are told one by one, and how many of the recipe's are left out."""
    orders = _orders_of(index, session)
    if session is not None:
        return orders, 0
    orders |= {order for order, row in index.orders.items() if row.closed is None}
    if not recipe:
        return orders, 0
    mine = index.worked_from(recipe)
    newest = mine[-MOST_ORDERS:]
    return orders | set(newest), len(set(mine) - orders - set(newest))


def _review(
    index: Index,
    past: Past,
    sums: Sums,
    scope: Scope,
    *,
    last: int | None = None,
    opening: bool = False,
) -> LookedBack:
    """The review, and how much it leaves out; nothing where `last` is None."""
    learnt = lessons(index, past.practice)
    sessions, hidden = tell_sessions(past, scope, last)
    rests = tell_rests(past, sums, scope)
    remakes, older = tell_remakes(past, scope, older=last is None)
    steps = tell_steps(past, sums, scope, learnt.heats, None if opening else learnt.hand)
    bench = () if opening else tell_bench(past, sums, scope, learnt.bench)
    findings = find(
        sessions,
        [r for r in rests.faults if not r.scrapped and (r.open or r.session == past.shown)],
        tell_causes(past, scope),
        [piece for piece in remakes if piece.open or piece.in_shown],
        steps,
        lesson=tell_lesson(past, scope.units),
        good=tell_good(past),
        worked=bool(sums.steps or rests.kept + rests.unsure + rests.short + rests.skipped)
        or bool(rests.broken),
    )
    review = Review(
        first=findings[0].sentence if findings else NOTHING_YET,
        findings=findings,
        practice=past.practice,
        shown_session=past.shown,
        sessions=sessions,
        timeline=tell_timeline(past),
        recipes=_names(past.recipes, [*(s.recipe for s in steps), *(b.recipe for b in bench)]),
        steps=steps,
        bench=bench,
        rests=rests,
        pairs=() if opening else tell_pairs(past, scope),
        remakes=remakes,
        troubles=tell_troubles(past, scope),
        unusual=() if opening else _unusual(index, past, scope, learnt),
        to_put_right=ask_heats(past.steps, past.orders, scope),
    )
    left = LeftOut(
        sessions=hidden,
        faults=sums.rests.faults - len(rests.faults),
        doubts=sums.rests.doubts - len(rests.doubts),
        remakes=older,
    )
    return LookedBack(review=review, left=left)


def _unusual(index: Index, past: Past, scope: Scope, learnt: Lessons) -> tuple[UnusualTold, ...]:
    beside = beside_session(index, past.shown, past.practice) if past.shown else ()
    if not beside:
        return ()
    return tell_unusual(past, beside, learnt.without(past.shown), scope)


def review_view(
    shop: Shop,
    session: str | None = None,
    recipe: str | None = None,
    *,
    width: int = WIDTH,
    clock: Clock | None = None,
    report: Report | None = None,
) -> ReviewView:
    """The review in words, for a screen or for the shell.

    Args:
        shop: The book.
        session: As for `review_of`.
        recipe: As for `review_of`.
        width: Columns that no line exceeds.
        clock: Of this machine where None.
        report: As for `review_of`.

    Raises:
        CannotDo: as for `review_of`.
    """
    told = look_back(shop, session, recipe, clock=clock, report=report)
    review = told.review
    return ReviewView(
        first=review.first,
        pages=write_pages(review, width, told.left),
        to_put_right=review.to_put_right,
        practice=review.practice,
    )


def put_right(
    shop: Shop, workpiece: str, step: str, heats: int, *, clock: Clock | None = None
) -> State:
    """Write down how many heats a step really took.

    Args:
        shop: The book; open it again afterwards.
        workpiece: Id of the piece.
        step: Id of the step.
        heats: As the smith says, 1 to 99.
        clock: Of this machine where None.

    Raises:
        CannotDo: there is no such step done, the number cannot be, or the disk does not take it.
    """
    if not 1 <= heats <= MOST_HEATS:
        raise CannotDo(f"{heats} heats cannot be; say a number from 1 to {MOST_HEATS}")
    order = order_of(workpiece)
    rows = make_rows(state_with(shop, order), (order,)).steps
    done = [one for one in rows if one.workpiece == workpiece and one.step == step]
    if not any(one.forged for one in done):
        raise CannotDo(f"{quoted(workpiece)} has no heats written down for {quoted(step)}")
    return mend(shop, HeatsCorrected(workpiece=workpiece, step=step, heats=heats), clock=clock)


def recipe_named(known: Mapping[str, Recipe], recipe: str | None) -> str:
    """The id of a recipe that was worked from; "" where none is named.

    Raises:
        CannotDo: nothing was worked from it; says the nearest.
    """
    if not recipe or recipe in known:
        return recipe or ""
    words = f"nothing was worked from a recipe {quoted(recipe)}"
    if known:
        words += f"; there is work from {listed(sorted(known), 'and')}"
    hint = did_you_mean(recipe, known)
    raise CannotDo(f"{words}\n    {hint}" if hint else words)


def _names(recipes: Mapping[str, Recipe], ids: list[str]) -> dict[str, str]:
    return {i: harmless(recipes[i].name if i in recipes else i) for i in dict.fromkeys(ids)}
