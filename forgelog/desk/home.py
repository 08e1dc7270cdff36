"""Home: open orders, recipes, past sessions, what needs seeing to, and what was cut off."""

from __future__ import annotations

from calendar import timegm
from datetime import date
from pathlib import Path
from time import strptime

import msgspec

from forgelog.book.sessions import first_offset_min
from forgelog.desk.clock import local_offset_min
from forgelog.desk.cut_off import unfinished
from forgelog.desk.dates import due_words, local_day
from forgelog.desk.needs import Need, needs_seeing_to
from forgelog.desk.order_view import OrderShown, orders_shown
from forgelog.desk.review_words import day_words, local_time
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.work.facts import SessionBegan
from forgelog.work.moments import Stamp

MOST_SESSIONS = 50
"""Past sessions that Home lists; the review has them all."""


class HomeOrder(msgspec.Struct, frozen=True, kw_only=True):
    """An open order."""

    order: OrderShown
    due: str
    """ "in 3 days", "2 days late", or ""."""
    late: bool = False


class HomeRecipe(msgspec.Struct, frozen=True, kw_only=True):
    """A recipe of the book."""

    id: str
    """Id, or the file's name where it cannot be read."""
    name: str
    says: str
    """Its first sentence."""
    problems: str = ""
    """ "2 errors", "1 warning", or ""."""
    usable: bool = True


class HomeSession(msgspec.Struct, frozen=True, kw_only=True):
    """A session at the fire."""

    session: str
    when: str
    """ "Fri 30 Jan 2026, 08:15"."""
    orders: tuple[str, ...]
    """Labels of the orders that are known here."""
    device: str
    who: str = ""
    practice: bool = False

    @property
    def words(self) -> str:
        """One line."""
        return ", ".join([self.when, *self.orders, *(["practice"] if self.practice else [])])


class HomeView(msgspec.Struct, frozen=True, kw_only=True):
    """All that Home shows. Texts are final and harmless."""

    shop: str
    """Its name, or the folder's where it has none."""
    practice_copy: bool
    orders: tuple[HomeOrder, ...]
    resume: HomeSession | None
    """A session that was cut off and can go on; it comes first."""
    needs: tuple[Need, ...]
    recipes: tuple[HomeRecipe, ...]
    sessions: tuple[HomeSession, ...]
    """Newest first."""


def home(shop: Shop, stamp: Stamp) -> HomeView:
    """What Home shows now.

    Args:
        shop: The book, opened just now.
        stamp: The clocks now.
    """
    today = local_day(stamp.wall, stamp.offset)
    cut_off = unfinished(shop)
    sessions = _sessions(shop, cut_off.id if cut_off else "")
    return HomeView(
        shop=harmless(shop.settings.shop.name or shop.book.name),
        practice_copy=shop.is_practice_copy,
        orders=tuple(_order(order, today) for order in orders_shown(shop)),
        resume=next((s for s in sessions if cut_off and s.session == cut_off.id), None),
        needs=needs_seeing_to(shop),
        recipes=_recipes(shop),
        sessions=tuple(sessions[:MOST_SESSIONS]),
    )


def _order(order: OrderShown, today: date) -> HomeOrder:
    due = due_words(order.promised, today)
    return HomeOrder(order=order, due=due, late=due.endswith("late"))


def _recipes(shop: Shop) -> tuple[HomeRecipe, ...]:
    found: list[HomeRecipe] = []
    for file in shop.recipes:
        recipe = file.recipe
        counts = [
            f"{number} {word}{'' if number == 1 else 's'}"
            for word in ("error", "warning")
            if (number := sum(p.severity == word for p in file.problems))
        ]
        name = recipe.name if recipe is not None else file.path.name
        says = render(recipe.says, shop.settings.shop.units) if recipe is not None else ""
        found.append(
            HomeRecipe(
                id=recipe.id if recipe is not None else harmless(file.path.stem),
                name=harmless(name),
                says=says.strip().partition(". ")[0].rstrip("."),
                problems=", ".join(counts),
                usable=recipe is not None,
            )
        )
    return tuple(sorted(found, key=lambda r: r.name.casefold()))


def _sessions(shop: Shop, cut_off: str) -> list[HomeSession]:
    """The newest sessions at the fire, and the one that was cut off, however old it is."""
    floors = {
        h.session: (path, h)
        for path, h in shop.headers.items()
        if h is not None and h.kind == "floor"
    }
    newest = sorted(floors, reverse=True)
    wanted = newest[:MOST_SESSIONS] + [s for s in newest[MOST_SESSIONS:] if s == cut_off]
    return [_session(shop, *floors[s]) for s in wanted]


def _session(shop: Shop, path: Path, began: SessionBegan) -> HomeSession:
    known = (shop.state.orders.get(order) for order in began.orders)
    return HomeSession(
        session=began.session,
        when=session_time(began.session, first_offset_min(path)),
        orders=tuple(harmless(order.label) for order in known if order is not None),
        device=harmless(began.device),
        who=harmless(began.who),
        practice=began.practice > 0,
    )


def session_time(session: str, offset_min: int | None = None) -> str:
    """When a session began, from its id: "Fri 30 Jan 2026, 08:15"; the id where it says nothing.

    Args:
        session: Its id.
        offset_min: Local time less UTC as the session has it; this machine's where None.
    """
    try:
        began = timegm(strptime(session.partition("-")[0], "%Y%m%dT%H%M%SZ"))
    except ValueError:
        return harmless(session)
    offset_min = local_offset_min(began) if offset_min is None else offset_min
    return day_words(local_time(began, offset_min))
