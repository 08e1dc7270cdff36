"""Who an order is for: read for the desk's pages, and noted once where nothing is noted yet."""

from __future__ import annotations

import msgspec

from forgelog.book.customers import customer_file, customer_words, write_customer
from forgelog.book.disk import why_not
from forgelog.desk.errors import CannotDo
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import harmless, hidden_signs, quoted
from forgelog.work.state import Order

LONGEST = 80
"""Letters of a name."""


class CustomerShown(msgspec.Struct, frozen=True, kw_only=True):
    """Who an order is for. All texts are harmless."""

    name: str = ""
    address: tuple[str, ...] = ()
    """In lines."""
    notes: str = ""
    more: tuple[str, ...] = ()
    """What else the smith wrote there: "phone: 01234"."""
    problem: str = ""
    """What is wrong with the file, in a line; it stops nothing."""


def customer_of(shop: Shop, order: str) -> CustomerShown | None:
    """Who an order is for; None where there is no file that says so."""
    try:
        words = dict(customer_words(shop.book, order))
    except (OSError, ValueError) as problem:
        why = why_not(problem) if isinstance(problem, OSError) else str(problem)
        return CustomerShown(problem=harmless(f"customers/{order}.toml cannot be read: {why}"))
    if not words:
        return None
    lines = (_line(line) for line in words.pop("address", "").splitlines())
    return CustomerShown(
        name=_line(words.pop("name", "")),
        address=tuple(line for line in lines if line),
        notes=_line(words.pop("notes", "")),
        more=tuple(f"{_line(key)}: {_line(text)}" for key, text in words.items() if text),
    )


def _line(text: str) -> str:
    return harmless(" ".join(text.split()))


def customer_name(text: str) -> str:
    """A name as it is written down, on one line.

    Raises:
        CannotDo: it is too long, or holds a sign that cannot be seen.
    """
    name = " ".join(text.split())
    if hidden_signs(name):
        raise CannotDo(f"the name {quoted(name)} holds a sign that cannot be seen")
    if len(name) > LONGEST:
        raise CannotDo(f"the name has {len(name)} letters; write at most {LONGEST}")
    return name


def note_customer(shop: Shop, order: Order, name: str) -> None:
    """Write down who an order is for; a file that is there already is the smith's and stays.

    Raises:
        CannotDo: there is such a file, no name is given, or the disk does not take it.
    """
    name = customer_name(name)
    if not name:
        raise CannotDo("say who it is for: a name")
    path = customer_file(shop.book, order.id)
    where = f"customers/{order.id}.toml"
    try:
        write_customer(shop.book, order.id, name)
    except OSError as problem:
        why = why_not(problem) if path is not None else str(problem.strerror)
        if isinstance(problem, FileExistsError):
            if (shop.book / "customers").is_dir():
                raise CannotDo(f"{where} is there already and is yours: change it there") from None
            why = "customers is no folder"
        raise CannotDo(f"who it is for could not be written: {harmless(why)}") from None
