"""What needs seeing to: the list that Home shows so that nothing is found out too late."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from forgelog.book.sessions import SetAside
from forgelog.desk.order_view import recipe_of_order
from forgelog.desk.recipe_moved import recipe_moved
from forgelog.desk.review_heats import ask_heats
from forgelog.desk.review_scope import Scope
from forgelog.desk.shop import Shop
from forgelog.desk.tool_jobs import tool_jobs
from forgelog.floor.blocks import waits_for_temper
from forgelog.floor.names import short_name
from forgelog.learn.row_making import make_rows
from forgelog.recipe.plain import harmless
from forgelog.work.queries import live, pieces_of
from forgelog.work.state import Order

A_FILE = 3
"""Lines set aside that are told of one file; of more, how many there are."""


class Need(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that needs seeing to."""

    kind: str
    """temper, rests, heats, tools, recipe, order, settings, journal or record."""
    words: str
    """One line, harmless."""
    order: str = ""
    """Id of the order that it concerns, or ""."""
    recipe: str = ""
    """Id of a recipe that would see to it, taken for the shop itself, or ""."""


def needs_seeing_to(shop: Shop) -> tuple[Need, ...]:
    """Everything, what may spoil work first."""
    return tuple(_needs(shop))


def _needs(shop: Shop) -> Iterator[Need]:
    state = shop.state
    for piece in waits_for_temper(state):
        words = f"{harmless(short_name(state, piece, exact=True))} is hard and waits for its temper"
        yield Need(kind="temper", words=words, order=piece.order)
    orders = [o for o in state.orders.values() if o.closed is None]
    for order in orders:
        yield from _of_order(shop, order)
    for job in tool_jobs(shop):
        makes = "" if job.order else next(iter(job.recipes), "")
        words = f"{job.words}, since {job.since}"
        yield Need(kind="tools", words=words, order=job.holds_up[0].order, recipe=makes)
    for problem in shop.settings.problems:
        yield Need(kind="settings", words=problem.text.partition("\n")[0])
    for file in shop.recipes:
        errors = [p for p in file.problems if p.severity == "error"]
        if errors:
            name = harmless(file.path.name)
            words = f"{name} has {_counted(len(errors), 'error')}; `forgelog check` tells them"
            yield Need(kind="recipe", words=words)
    yield from _set_aside(shop.set_aside)
    for trouble in state.troubles:
        words = f"session {trouble.session}, press {trouble.seq}: {harmless(trouble.words)}"
        yield Need(kind="record", words=words)


def _of_order(shop: Shop, order: Order) -> Iterator[Need]:
    label = harmless(order.label)
    _, why = recipe_of_order(shop, order)
    for text in why:
        yield Need(kind="order", words=f"{label}: {text}".partition("\n")[0], order=order.id)
    if recipe_moved(shop, order) is not None:
        words = f"{label}: the recipe, a size or a bar has changed; the lay-out asks what to do"
        yield Need(kind="order", words=words, order=order.id)
    if order.free and not any(live(piece) for piece in pieces_of(shop.state, order.id)):
        words = f"{label}: worked without a recipe; `forgelog draft {label}` writes it"
        yield Need(kind="order", words=words, order=order.id)
    practice = shop.is_practice_copy
    rows = make_rows(shop.state, (order.id,))
    mine = [rest for rest in rows.rests if rest.practice == practice]
    faulty = [rest for rest in mine if rest.faulty and rest.matters and not rest.over]
    if faulty:
        words = f"{label}: {_counted(len(faulty), 'rest')} that matters was not kept"
        if len(faulty) > 1:
            words = f"{label}: {len(faulty)} rests that matter were not kept"
        yield Need(kind="rests", words=f"{words}; the review tells them", order=order.id)
    done = [row for row in rows.steps if row.practice == practice]
    asks = ask_heats(done, {row.order: row for row in rows.orders}, Scope())
    if asks:
        words = f"{label}: heats that were not pressed on {_counted(len(asks), 'step')}"
        yield Need(kind="heats", words=f"{words}; the review asks for them", order=order.id)


def _set_aside(lines: tuple[SetAside, ...]) -> Iterator[Need]:
    by_file: dict[str, list[SetAside]] = {}
    for line in lines:
        by_file.setdefault(line.file, []).append(line)
    for file, aside in by_file.items():
        for line in aside[:A_FILE]:
            yield Need(kind="journal", words=harmless(line.words))
        more = len(aside) - A_FILE
        if more > 0:
            words = f"{file}: {_counted(more, 'more line')} set aside"
            yield Need(kind="journal", words=harmless(words))


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
