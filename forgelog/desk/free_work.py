"""Takes work without a recipe: what it is cut from is said now, what is done as it is done."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.orders import MOST_SETS, free_label, line_of, new_tail
from forgelog.desk.rack import rack
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.recipe.heats import usual_range
from forgelog.recipe.plain import quoted
from forgelog.recipe.resolved import Recipe
from forgelog.recipe.slugs import slug
from forgelog.trade.sections import Section, SectionError, parse_section
from forgelog.trade.steels import SteelError, grade
from forgelog.units import ReadError, parse_length
from forgelog.work.facts import OrderTaken, RecipePinned
from forgelog.work.free import free_component
from forgelog.work.making import make_pieces
from forgelog.work.state import Order

MOST_EACH = 200
LONGEST_ID = 40
USUAL = Section(kind="square", a_mm=12.0)
"""Proposed where nothing lies on the rack. Common practice."""


class FreePart(msgspec.Struct, frozen=True, kw_only=True):
    """A component of free work, as far as it is known before it is made."""

    name: str
    section: Section
    cut_mm: float | None = None
    each: int = 1


def read_part(text: str) -> FreePart:
    """Read "hook=12 mm square", "hook=12 mm square, 180 mm" or "4 hook=12 mm square".

    Raises:
        CannotDo: the name, the bar or the length cannot be read; says what to write.
    """
    name, sign, rest = text.partition("=")
    bar, comma, cut = rest.partition(",")
    each = 1
    first, _, others = name.strip().partition(" ")
    if first.isdecimal() and others:
        each, name = int(first), others
    if not sign or not bar.strip() or not name.strip():
        raise CannotDo(
            f'{quoted(text)} names no piece and bar; write it like "hook=12 mm square, 180 mm"'
        )
    if not 1 <= each <= MOST_EACH:
        raise CannotDo(f"{each} pieces cannot be; write a number from 1 to {MOST_EACH}")
    try:
        section = parse_section(bar)
        cut_mm = parse_length(cut) if comma else None
    except (SectionError, ReadError) as problem:
        raise CannotDo(f"{quoted(name.strip())}: {problem}") from None
    return FreePart(name=line_of(name, "name"), section=section, cut_mm=cut_mm, each=each)


def sections_at_hand(shop: Shop) -> tuple[Section, ...]:
    """The bars that lie on the rack, each section once; a usual one where there are none."""
    found = dict.fromkeys(bar.section for bar in rack(shop))
    return tuple(found) or (USUAL,)


def take_free(
    shop: Shop,
    title: str,
    parts: Sequence[FreePart],
    *,
    steel: str = "mild",
    label: str = "",
    count: int = 1,
    clock: Clock | None = None,
) -> Order:
    """Take an order without a recipe; its draft can be written once something was made.

    Args:
        shop: The book.
        title: What is made: "gate latch".
        parts: Its components, at least one.
        steel: mild, a grade, or unknown.
        label: The smith's own number; the id's tail where "".
        count: How many of it.
        clock: Of this machine where None.

    Raises:
        CannotDo: it has no name or no component, two of one name, an unknown steel, and so on.
    """
    title = line_of(title, "title")
    if not slug(title):
        raise CannotDo('say what is made: a few words, like "gate latch"')
    if not parts:
        raise CannotDo('say at least one piece and its bar, like "hook=12 mm square"')
    names = [slug(part.name)[:LONGEST_ID] or "piece" for part in parts]
    if len(set(names)) < len(names):
        raise CannotDo("two pieces have one name; give each its own")
    if not 1 <= count <= MOST_SETS:
        raise CannotDo(f"{count} cannot be made; write a number from 1 to {MOST_SETS}")
    try:
        known = grade(steel)
    except SteelError as problem:
        raise CannotDo(str(problem)) from None
    steel, heat = known.id, usual_range(known)
    random = new_tail(shop)
    order = f"{shop.device.id}-{random}"
    recipe = Recipe(
        id=f"free-{random}",
        name=title,
        revision="draft",
        process_hash="",
        steel=steel,
        components=tuple(
            free_component(name, part.name, part.section, part.each, part.cut_mm, heat)
            for name, part in zip(names, parts, strict=True)
        ),
    )
    taken = OrderTaken(
        order=order,
        label=free_label(shop, label, random),
        title=title,
        recipe=recipe.id,
        count=count,
        free=True,
    )
    pinned = RecipePinned(order=order, recipe=recipe, made=make_pieces(order, recipe, count))
    return write_down(shop, taken, pinned, clock=clock).orders[order]
