"""When a recipe, size or bar has changed since an order was begun: what differs, what to do.

Asked once: the answer pins the recipe as it is now, whatever pieces go over to it.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from forgelog.desk.clock import Clock
from forgelog.desk.cut_wanted import as_cut_mm
from forgelog.desk.differences import difference_words
from forgelog.desk.errors import CannotDo
from forgelog.desk.order_view import recipe_of_order
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.recipe.resolved import Recipe, Step
from forgelog.trade.sections import show_section
from forgelog.units import UnitSystem, show_length
from forgelog.work.facts import AnyFact, NewPiece, RecipePinned, Scrapped, StepReopened
from forgelog.work.making import again, make_pieces
from forgelog.work.recipe_changes import (
    ChangedStep,
    changed_steps,
    finished_with,
    moved_pieces,
)
from forgelog.work.state import FINISHED, FITTED, Order, State, Workpiece

KEEP, NOT_BEGUN, NEXT_STEP = CHOICES = ("keep", "not begun", "next step")
"""All pieces keep what they have; those not begun go over; all go over at their next step."""

CHOICE_WORDS = {
    KEEP: "keep the recipe as it was for all pieces",
    NOT_BEGUN: "the new one for pieces not begun",
    NEXT_STEP: "the new one from each piece's next step",
}

RIGHT, REWORK, REMAKE = ANSWERS = ("still right", "rework", "remake")

SIZE_CHANGED = "the recipe, a size or a bar has changed"


class StepMoved(msgspec.Struct, frozen=True, kw_only=True):
    """A step, or a whole component, that differs."""

    component: str
    step: str
    """"" where it is the component itself."""
    words: str
    """ "pin, bend the pin: length 60 mm, now 80 mm"."""


class PieceMoved(msgspec.Struct, frozen=True, kw_only=True):
    """A workpiece that has finished a step which has changed since."""

    workpiece: str
    slot: str
    rework_from: str
    """Id of the first such step."""
    lines: tuple[str, ...]
    """Each such step with old and new."""
    answers: tuple[str, ...] = ANSWERS
    """What can be said of it; one that is part of an assembly can only be still right."""


class RecipeMoved(msgspec.Struct, frozen=True, kw_only=True):
    """What has changed for one order since it was begun."""

    order: str
    recipe: Recipe
    """As it is now, at the order's sizes."""
    steps: tuple[StepMoved, ...]
    pieces: tuple[PieceMoved, ...]


def recipe_moved(shop: Shop, order: Order) -> RecipeMoved | None:
    """What has changed since the order was begun, or None where nothing has.

    Nothing has changed, either, for an order that was not begun, and where the recipe is gone or
    has errors: then the order goes on with what it has.
    """
    if not order.pins:
        return None
    now, _ = recipe_of_order(shop, order)
    if now is None:
        return None
    before = order.pins[-1]
    changed = changed_steps(before, now)
    if not changed:
        return None
    units = shop.settings.shop.units
    finished = finished_with(shop.state, order.id, changed)
    return RecipeMoved(
        order=order.id,
        recipe=now,
        steps=tuple(_step(one, before, now, units) for one in changed),
        pieces=tuple(
            piece
            for workpiece, steps in finished.items()
            if (piece := _piece(shop.state.pieces[workpiece], steps, order, now, units)).lines
            or steps != ("",)
        ),
    )


def moved_lines(shop: Shop, order: Order) -> list[str]:
    """What has changed, for the shell; nothing where nothing has."""
    moved = recipe_moved(shop, order)
    if moved is None:
        return []
    lines = ["The next lay-out asks what to do about:"]
    lines.extend(f"  {step.words}" for step in moved.steps)
    if moved.pieces:
        lines.append("Finished already, as it was before:")
    for piece in moved.pieces:
        lines.extend(f"  {piece.slot}: {line}" for line in piece.lines)
    return lines


def take_over(
    shop: Shop,
    moved: RecipeMoved,
    choice: str,
    answers: Mapping[str, str] | None = None,
    *,
    clock: Clock | None = None,
) -> State:
    """Pin the recipe as it is now, for the pieces that the smith chose.

    Args:
        shop: The book, opened just now.
        moved: As `recipe_moved` gave it.
        choice: One of CHOICES.
        answers: One of ANSWERS for workpieces that have finished a changed step; still right
            where it says nothing.
        clock: Of this machine where None.

    Raises:
        CannotDo: it cannot be, as things stand, or the disk does not take it.
    """
    if choice not in CHOICES:
        raise ValueError(f"no such choice: {choice}")
    state = shop.state
    order = state.orders[moved.order]
    goes_over: dict[str, str] = {}
    made: tuple[NewPiece, ...] = ()
    if choice != KEEP:
        begun_too = choice == NEXT_STEP
        goes_over = moved_pieces(state, order, moved.recipe, begun_too=begun_too)
        new = {s.component for s in moved.steps} - {p.component for p in _all(state, order)}
        made = make_pieces(order.id, moved.recipe, order.count, after=order.serials, only=new)
    later: list[AnyFact] = []
    serial = order.serials + len(made)
    by_piece = {p.workpiece: p for p in moved.pieces}
    for workpiece, answer in (answers or {}).items():
        piece = state.pieces[workpiece]
        if answer not in by_piece[workpiece].answers:
            raise CannotDo(f"{by_piece[workpiece].slot} cannot be put to {answer!r} any more")
        if answer == REWORK:
            step = by_piece[workpiece].rework_from
            goes_over[workpiece] = (
                step if piece.place == FINISHED else goes_over.get(workpiece, step)
            )
            later.append(StepReopened(workpiece=workpiece, step=step, why=SIZE_CHANGED))
        elif answer == REMAKE:
            first = next(c for c in moved.recipe.components if c.id == piece.component).steps[0]
            goes_over[workpiece] = first.id
            remake = again(order, piece, after=serial)
            serial = remake.serial
            later.append(Scrapped(workpiece=workpiece, why=SIZE_CHANGED, remake=remake))
    pin = RecipePinned(order=order.id, recipe=moved.recipe, made=made, moved=goes_over)
    return write_down(shop, pin, *later, clock=clock)


def _all(state: State, order: Order) -> list[Workpiece]:
    return [p for p in state.pieces.values() if p.order == order.id]


def _steps(recipe: Recipe) -> dict[tuple[str, str], Step]:
    return {(c.id, s.id): s for c in recipe.components for s in c.steps}


def _step(one: ChangedStep, before: Recipe, now: Recipe, units: UnitSystem | str) -> StepMoved:
    name = harmless(one.component_name)
    at = (one.component, one.step)
    if one.step:
        what = f"{name}, {render(one.do, units)}"
    else:
        what = name
    if one.how != "changed":
        words = f"{what}: {'is new' if one.how == 'new' else 'is gone'}"
    elif one.step:
        differ = difference_words(_steps(before)[at], _steps(now)[at], units)
        words = f"{what}: {'; '.join(differ)}"
    else:
        words = f"{what}: {_of_component(one, before, now, units)}"
    return StepMoved(component=one.component, step=one.step, words=words)


def _of_component(one: ChangedStep, before: Recipe, now: Recipe, units: UnitSystem | str) -> str:
    """What differs in the head of a component; of its stock, old and new."""
    was, is_now = (_stock_words(recipe, one.component, units) for recipe in (before, now))
    told = "stock" in one.fields and was != is_now
    heads = [_HEADS.get(f, f) for f in one.fields if not (told and f == "stock")]
    words = [f"cut from {was}, now {is_now}"] if told else []
    if heads:
        words.append(f"{' and '.join(heads)} changed")
    return "; ".join(words)


def _stock_words(recipe: Recipe, component: str, units: UnitSystem | str) -> str:
    stock = next((c.stock for c in recipe.components if c.id == component), None)
    if stock is None:
        return "nothing"
    cut_mm = stock.cut_mm if stock.cut_mm is not None else stock.sum_mm
    section = show_section(stock.section, units)
    if not cut_mm:
        return section
    return f"{show_length(as_cut_mm(cut_mm, units), units, fine=True)} of {section}"


def _wants_more_or_less(before: Recipe, now: Recipe, component: str) -> bool:
    """Whether the piece itself takes another length of the same bar.

    Another bar, or a cut that has proved itself since, leaves what was cut as it is.
    """
    stocks = [c.stock for r in (before, now) for c in r.components if c.id == component and c.stock]
    if len(stocks) != 2 or stocks[0].section != stocks[1].section:
        return False
    was, wants = stocks
    if was.volume_mm3 or wants.volume_mm3:
        return was.volume_mm3 != wants.volume_mm3
    return was.cut_mm != wants.cut_mm


_HEADS = {
    "marks": "hands",
    "each": "how many there are",
    "mirrored": "hands",
    "lot": "whether it is a handful",
    "stock": "stock",
    "needs": "what it is made of",
    "match": "what must match",
}


def _piece(
    piece: Workpiece, steps: tuple[str, ...], order: Order, now: Recipe, units: UnitSystem | str
) -> PieceMoved:
    had_all = order.pins[piece.pin]
    had = _steps(had_all)
    have = _steps(now)
    lines: list[str] = []
    still: list[str] = []
    for step in steps:
        if not step:
            was, now_from = (_stock_words(r, piece.component, units) for r in (had_all, now))
            if was != now_from and _wants_more_or_less(had_all, now, piece.component):
                lines.append(f"cut from {was}, now {now_from}")
                still.extend(s for c, s in have if c == piece.component)
            continue
        at = (piece.component, step)
        if at not in have or at not in had:
            continue
        differ = difference_words(had[at], have[at], units)
        lines.append(f"{render(had[at].do, units)}: {'; '.join(differ)}")
        still.append(step)
    if piece.place == FITTED:
        lines.append("it is part of an assembly: to make another, scrap that first")
    fitted = piece.place == FITTED
    return PieceMoved(
        workpiece=piece.id,
        slot=harmless(piece.slot),
        rework_from=still[0] if still else "",
        lines=tuple(lines),
        answers=(RIGHT,) if fitted or not still else ANSWERS,
    )
