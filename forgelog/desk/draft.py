"""A draft recipe out of work that was done without one: what is known, and gaps marked as such.

Gaps stand as comments, so that `forgelog check` takes the file as it is; the smith fills them in.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from statistics import median

import msgspec

from forgelog.desk.errors import CannotDo
from forgelog.desk.new_file import put_new
from forgelog.desk.order_state import state_with
from forgelog.desk.shop import Shop
from forgelog.recipe.plain import quoted
from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolved import FORGING_KINDS, METHODS, Component, Recipe, Step
from forgelog.recipe.slugs import slug
from forgelog.recipe.write import write_recipe
from forgelog.recipe.written import (
    WrittenComponent,
    WrittenHeats,
    WrittenRecipe,
    WrittenStep,
    WrittenStock,
)
from forgelog.trade.sections import write_section
from forgelog.units import show_time, write_length
from forgelog.work.queries import pieces_of
from forgelog.work.state import Order, State, StepRecord

GAP = "gap:"
"""What every gap's comment begins with, so that an editor finds them."""

_HEAD = """\
# A draft, written from work that was done without a recipe. What stands here is what was done, heat
# by heat; what nobody wrote down is marked "gap:". Fill the gaps in, look it over with
# `forgelog check`, and take the marks out.
"""


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """A draft recipe, not written yet."""

    id: str
    text: str
    gaps: int
    """How many gaps are marked in it."""


def draft_of(shop: Shop, order: Order) -> Draft:
    """Make a draft recipe of an order of free work.

    Args:
        shop: The book, opened just now.
        order: The order; closed or open.

    Raises:
        CannotDo: it follows a recipe already, or nothing of it has been done.
    """
    if not order.free:
        raise CannotDo(f"order {quoted(order.label)} follows the recipe {quoted(order.recipe)}")
    state = state_with(shop, order.id)
    order = state.orders[order.id]
    drafting = _Drafting(state, order)
    recipe = drafting.recipe()
    if not any(component.step for component in recipe.component):
        raise CannotDo(f"nothing of order {quoted(order.label)} has been said yet: no step is done")
    text = _HEAD + "\n" + _with_gaps(write_recipe(recipe), drafting.gaps)
    read, problems = read_recipe(text.encode(), f"{recipe.id}.toml")
    if read is None:
        raise CannotDo("\n".join(["no draft can be made:", *(p.text for p in problems)]))
    return Draft(id=recipe.id, text=text, gaps=text.count(f"# {GAP}"))


def write_draft(shop: Shop, draft: Draft, path: Path | None = None) -> Path:
    """Write a draft; a file that is there already is left as it is.

    Args:
        shop: The book.
        draft: As `draft_of` made it.
        path: Where to; among the book's recipes where None.

    Raises:
        CannotDo: there is a file of this name, or the disk does not take it.
    """
    path = path or shop.book / "recipes" / f"{draft.id}.toml"
    return put_new(path, draft.text)


class _Drafting:
    """Turns what was done into what a recipe says, and counts what is missing."""

    def __init__(self, state: State, order: Order) -> None:
        self.state = state
        self.order = order
        self.gaps: list[list[str]] = []
        """Of every step in the order of the file."""

    def recipe(self) -> WrittenRecipe:
        """All of it."""
        pinned: Recipe = self.order.pins[-1]
        return WrittenRecipe(
            format=1,
            id=_id(pinned.name),
            name=pinned.name,
            revision=1,
            steel=pinned.steel,
            component=[self._component(component) for component in pinned.components],
        )

    def _component(self, component: Component) -> WrittenComponent:
        stock = component.stock
        assert stock is not None
        said = [step for step in component.steps if not step.open]
        taken: dict[str, int] = {}
        return WrittenComponent(
            id=component.id,
            name=component.name,
            each=component.each,
            stock=WrittenStock(
                section=write_section(stock.section),
                cut=write_length(stock.cut_mm) if stock.cut_mm else None,
            ),
            step=[self._step(component, step, taken) for step in said],
        )

    def _step(self, component: Component, step: Step, taken: dict[str, int]) -> WrittenStep:
        name = slug(step.do)[:30] or "step"
        taken[name] = taken.get(name, 0) + 1
        records = self._records(component, step)
        gaps: list[str] = []
        heats = self._heats(records) if step.kind in FORGING_KINDS else None
        minutes = None
        if step.kind in FORGING_KINDS:
            gaps += ['says = "what to do, from which mark, to which size"', 'tools = ["..."]']
            if heats is None:
                gaps.append("heats = { hand = ... }: nobody pressed them")
            gaps.append('work = "... degC to ... degC", where the steel\'s own range is not right')
        elif step.kind in ("bench", "fit", "finish"):
            times = [record.work_s for record in records if record.work_s >= 1.0]
            minutes = show_time(max(60.0, round(median(times) / 60) * 60.0)) if times else None
            gaps += ['says = "what to do"', 'tools = ["..."]']
            if minutes is None:
                gaps.append('minutes = "..."')
        elif step.kind == "rest":
            gaps.append('why = "why it rests, and what to look for meanwhile"')
        else:
            gaps.append('soak = "... min", and what the heat is judged by')
        self.gaps.append(gaps)
        rest = step.rest
        return WrittenStep(
            do=step.do,
            id=f"{name}-{taken[name]}" if taken[name] > 1 else None,
            kind=step.kind,  # type: ignore[arg-type]
            done=step.done if step.done != f"{step.do} done" else None,
            heats=heats,
            minutes=minutes,
            until=rest.until if rest is not None and step.kind == "rest" else None,
            at=f"{step.at_degc:g} degC" if step.at_degc is not None else None,
            quench=step.quench or None,  # type: ignore[arg-type]
        )

    def _records(self, component: Component, step: Step) -> list[StepRecord]:
        return [
            record
            for piece in pieces_of(self.state, self.order.id)
            if piece.component == component.id
            for record in piece.done
            if record.step == step.id and not record.scrapped
        ]

    def _heats(self, records: list[StepRecord]) -> WrittenHeats | None:
        found: dict[str, int] = {}
        for method in METHODS:
            heats = [r.heats for r in records if r.method == method and r.heats]
            if heats:
                found[method] = min(40, max(1, round(median(heats))))
        return WrittenHeats(**found) if found else None


def _id(name: str) -> str:
    plain = "".join(sign for sign in slug(name) if sign.isascii()).strip("-")[:40].strip("-")
    return plain if plain[:1].isalpha() else f"draft-{plain}"[:40].strip("-")


def _with_gaps(text: str, gaps: list[list[str]]) -> str:
    """The recipe's text with the gaps of each step as comments at its end."""
    return "\n".join(_rows(text.splitlines(), gaps)) + "\n"


def _rows(rows: list[str], gaps: list[list[str]]) -> Iterator[str]:
    at = -1
    head = True
    for row in [*rows, ""]:
        if not row and head:
            head = False
            yield f'# {GAP} says = "what it is, in a sentence or two"'
            yield f'# {GAP} licence = "CC-BY-4.0", if it is to be shared'
        elif not row and at >= 0 and gaps[at]:
            yield from (f"  # {GAP} {gap}" for gap in gaps[at])
            gaps[at] = []
        elif row.startswith("stock = ") and "cut = " not in row:
            yield row
            yield f'# {GAP} the length it is cut to: cut = "... mm" in stock, and its form'
            continue
        if row.strip() == "[[component.step]]":
            at += 1
        yield row
