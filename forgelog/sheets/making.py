"""Makes a sheet: asks the desk, sets it, and hands it to the desk to be kept."""

from __future__ import annotations

from pathlib import Path

import msgspec

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.job import customer_facts
from forgelog.desk.orders import find_order
from forgelog.desk.sheet_file import keep_sheet, sheet_name
from forgelog.desk.shop import Shop
from forgelog.sheets.blocks import Sheet
from forgelog.units import UnitSystem


class Wanted(msgspec.Struct, frozen=True, kw_only=True):
    """Which sheet is wanted, and how."""

    kind: str
    """One of KINDS."""
    order: str = ""
    """As the smith names it."""
    session: str = ""
    """Its number in the list, or its id; "" for the last one."""
    paper: str = ""
    """a4 or letter; "" for what goes with the shop's units."""
    text: bool = False
    """True for lines in place of a page."""
    markdown: bool = False
    """True for Markdown in place of a page."""
    customer: bool = False
    plan: bool = False


class Made(msgspec.Struct, frozen=True, kw_only=True):
    """A sheet that was set."""

    name: str
    """Of its file."""
    text: str
    """The whole of it."""


def set_sheet(shop: Shop, wanted: Wanted, *, clock: Clock | None = None) -> Made:
    """Set a sheet.

    Args:
        shop: The book, opened just now.
        wanted: Which one.
        clock: None for the book's own.

    Raises:
        CannotDo: there is no such order, or nothing to tell of it.
    """
    from forgelog.desk.as_lit import clock_of

    sheet, inch, names = _told(shop, wanted, clock or clock_of(shop))
    if wanted.text:
        from forgelog.sheets.text import set_lines

        return Made(name=sheet_name(wanted.kind, *names, ending="txt"), text=set_lines(sheet))
    if wanted.markdown:
        from forgelog.sheets.markdown import set_markdown

        name = sheet_name(wanted.kind, *names, ending="md")
        return Made(name=name, text=set_markdown(sheet))
    from forgelog.sheets.html import set_page

    paper = wanted.paper or ("letter" if inch else "a4")
    return Made(name=sheet_name(wanted.kind, *names), text=set_page(sheet, paper))


def keep(shop: Shop, made: Made) -> Path:
    """Keep it in the book; return where it lies.

    Raises:
        CannotDo: the disk does not take it.
    """
    return keep_sheet(shop, made.name, made.text)


def _cut(shop: Shop, name: str, clock: Clock) -> tuple[Sheet, bool, tuple[str, ...]]:
    """The cut list of an order, or of all that are open."""
    from forgelog.desk.cut import cut_of
    from forgelog.desk.job import day_of
    from forgelog.sheets.cut import cut_sheet

    orders = [find_order(shop.state, name)] if name else []
    told = cut_of(shop, [order.id for order in orders])
    names = tuple(text for order in orders for text in (order.label, order.id))
    inch = shop.settings.shop.units == UnitSystem.INCH
    return cut_sheet(told, day_of(clock)), inch, names or ("all",)


def write_sheet(
    shop: Shop, kind: str, *, order: str = "", session: str = "", clock: Clock | None = None
) -> str:
    """Write a page into the book; return a line that says where it lies.

    Args:
        shop: The book, opened just now.
        kind: As for `Wanted`.
        order: Id of the order that it is of.
        session: Id of the session that it is of.
        clock: None for the book's own.

    Raises:
        CannotDo: there is nothing to tell, or the disk does not take it.
    """
    made = set_sheet(shop, Wanted(kind=kind, order=order, session=session), clock=clock)
    path = keep(shop, made)
    return f"in the book: {path.parent.name}/{path.name}"


def _told(shop: Shop, wanted: Wanted, clock: Clock) -> tuple[Sheet, bool, tuple[str, ...]]:
    """The sheet, whether the shop works in inches, and what names the file."""
    if wanted.kind == "session":
        from forgelog.desk.review import review_of
        from forgelog.desk.review_sessions import last_session
        from forgelog.sheets.session import session_sheet

        session = wanted.session or last_session(shop)
        if not session:
            raise CannotDo("there is no session at the fire yet that could be told")
        review = review_of(shop, session, clock=clock)
        inch = shop.settings.shop.units == UnitSystem.INCH
        return session_sheet(review), inch, (review.shown_session,)
    if wanted.kind == "cut":
        return _cut(shop, wanted.order, clock)
    order = find_order(shop.state, wanted.order)
    names = (order.label, order.id)
    match wanted.kind:
        case "job":
            from forgelog.desk.job import job_of
            from forgelog.sheets.job import job_sheet

            job = job_of(shop, order, customer=wanted.customer, plan=wanted.plan, clock=clock)
            return job_sheet(job), job.inch, names
        case "pack":
            from forgelog.desk.pack import pack_of
            from forgelog.sheets.pack import pack_sheet

            pack = pack_of(shop, order, customer=wanted.customer, clock=clock)
            return pack_sheet(pack), pack.inch, names
        case "quote" | "inner":
            from forgelog.desk.quote import quote_of
            from forgelog.sheets.quote import inner_sheet, quote_sheet

            quote = quote_of(shop, order, clock=clock)
            inch = shop.settings.shop.units == UnitSystem.INCH
            if wanted.kind == "inner":
                return inner_sheet(quote), inch, names
            who = customer_facts(shop, order) if wanted.customer else ()
            return quote_sheet(quote, who), inch, names
    raise CannotDo(f"there is no sheet of the kind {wanted.kind}")
