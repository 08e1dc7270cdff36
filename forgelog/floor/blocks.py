"""Why a piece should not be taken up now: its set, its parts, its tools, a lock."""

from __future__ import annotations

import msgspec

from forgelog.floor.names import kind_name, short_name
from forgelog.floor.settings import FloorSettings
from forgelog.recipe.resolved import HEAT_KINDS, Step
from forgelog.trade.steels import hardenable
from forgelog.work.queries import (
    component_of,
    in_fire,
    left_of,
    live,
    order_open,
    parts_for,
    pieces_of,
    recipe_of,
    step_of,
    steps_of,
)
from forgelog.work.state import BENCH, FIRE, FITTED, HAND, RESTING, SCRAPPED, State, Workpiece

NOT_READY = ("to be made", "to be repaired")


class Block(msgspec.Struct, frozen=True, kw_only=True):
    """A reason, and whether the smith may take the piece all the same."""

    kind: str
    """set, parts, tool, lock, steel or order."""
    words: str
    firm: bool = False
    """True where it cannot be overridden."""


def chains(steps: tuple[Step, ...]) -> tuple[int, ...]:
    """For every step the number of its chain.

    Steps of one heat, a rest after a step, a gauge after a step and a run of heat treatment are one
    chain: within it a piece goes on by itself; between chains the set moves together.
    """
    numbers: list[int] = []
    number = 0
    for index, step in enumerate(steps):
        before = steps[index - 1] if index else None
        treated = before is not None and (
            before.kind in HEAT_KINDS
            or (before.kind == "rest" and index > 1 and steps[index - 2].kind in HEAT_KINDS)
        )
        joined = before is not None and (
            step.follows or step.kind in ("rest", "gauge") or (step.kind in HEAT_KINDS and treated)
        )
        if before is not None and not joined:
            number += 1
        numbers.append(number)
    return tuple(numbers)


def reached(state: State, piece: Workpiece) -> int:
    """The step the piece will stand at when what runs by itself is over: rests hold nobody up."""
    steps = steps_of(state, piece)
    index = piece.step
    if piece.place == RESTING and piece.rest is not None and piece.rest.step:
        index += 1
    while index < len(steps) and steps[index].kind == "rest":
        index += 1
    return index


def behind(state: State, piece: Workpiece, step: int) -> list[Workpiece]:
    """Pieces of the set that have not come as far as the chain of `step`.

    A remade or reopened piece neither waits nor is waited for; for a spare nobody waits.
    """
    if piece.remade_from or piece.reopened:
        return []
    number = chains(steps_of(state, piece))
    if step >= len(number):
        return []
    found = []
    for mate in pieces_of(state, piece.order):
        if (
            mate.id == piece.id
            or mate.component != piece.component
            or mate.pin != piece.pin
            or not live(mate)
            or mate.remade_from
            or mate.reopened
            or mate.spare
        ):
            continue
        at = reached(state, mate)
        if at < len(number) and number[at] < number[step]:
            found.append(mate)
    return sorted(found, key=lambda p: (p.step, p.serial))


def lock_holder(state: State) -> Workpiece | None:
    """The piece between the fire of harden and the fire of temper, if there is one."""
    for piece in state.pieces.values():
        if not live(piece):
            continue
        step = step_of(state, piece)
        if step is None:
            continue
        if step.kind == "harden" and piece.place in (FIRE, HAND):
            return piece
        if piece.place != FIRE and is_hard(state, piece):
            return piece
    return None


def is_hard(state: State, piece: Workpiece) -> bool:
    """Whether the piece is hardened and has its temper still before it."""
    treated = [r.kind for r in piece.done if r.kind in ("harden", "temper")]
    if not treated or treated[-1] != "harden":
        return False
    return any(s.kind == "temper" for s in steps_of(state, piece)[piece.step :])


def waits_for_temper(state: State) -> list[Workpiece]:
    """Hardened pieces that are not tempered: they may crack while they wait."""
    return [
        piece
        for piece in state.pieces.values()
        if live(piece) and piece.place != FIRE and is_hard(state, piece)
    ]


TEST_PIECE = "a test piece was hardened and tried"
"""The note that lets an unknown steel be hardened."""


def steel_known(state: State, piece: Workpiece) -> bool:
    """Whether the steel is known, or a test piece of it has been tried."""
    if hardenable(recipe_of(state, piece).steel) is not None:
        return True
    return TEST_PIECE in state.orders[piece.order].notes


def tools_missing(state: State, step: Step, settings: FloorSettings) -> list[tuple[str, str]]:
    """Names and states of tools that this step needs and that are not ready."""
    missing = []
    for tool in step.tools:
        seen = state.tools.get(tool.id)
        condition = seen[0] if seen else settings.tools.get(tool.id, "have")
        if condition in NOT_READY:
            missing.append((tool.name, condition))
    return missing


def held_back(
    state: State, settings: FloorSettings
) -> dict[str, tuple[int, tuple[tuple[str, str], ...]]]:
    """Live workpieces that come to a step whose tool is not ready: by workpiece the index of that
    step, and the tools with what they are.

    A step that is under way, or that the smith took all the same, counts as one that can be done.
    """
    found: dict[str, tuple[int, tuple[tuple[str, str], ...]]] = {}
    for piece in state.pieces.values():
        if not live(piece) or not order_open(state.orders[piece.order]):
            continue
        for index, step in enumerate(steps_of(state, piece)):
            if index < piece.step or waived(piece, step, "tool"):
                continue
            if index == piece.step and (piece.heats or piece.work_s or piece.place == FIRE):
                continue
            missing = tools_missing(state, step, settings)
            if missing:
                found[piece.id] = index, tuple(missing)
                break
    return found


def block(
    state: State,
    piece: Workpiece,
    step: Step,
    settings: FloorSettings,
    *,
    holder: Workpiece | None,
) -> Block | None:
    """What stands against beginning this step of the piece now; None when nothing does.

    Args:
        state: What stands.
        piece: The piece.
        step: The step that would begin.
        settings: Of this floor.
        holder: Who holds the heat treatment lock (`lock_holder`), looked up once by the caller.
    """
    order = state.orders[piece.order]
    if not order_open(order):
        return Block(kind="order", words=f"the order is {order.closed or order.held}", firm=True)
    heated = step.kind == "forge" or step.kind in HEAT_KINDS
    if holder is not None and holder.id != piece.id and heated:
        words = f"{short_name(state, holder)}: harden and temper first"
        return Block(kind="lock", words=words)
    if step.kind == "harden" and piece.place != FIRE:
        others = [p for p in in_fire(state) if p.id != piece.id]
        if others:
            return Block(kind="lock", words="harden alone: clear the fire first", firm=True)
    treated = step.kind == "harden" or (step.kind == "temper" and not is_hard(state, piece))
    if treated and not steel_known(state, piece):
        return Block(kind="steel", words="unknown steel: try a test piece", firm=True)
    needs = component_of(state, piece).needs
    if needs and not piece.parts and piece.step == 0:
        _, missing = parts_for(state, piece)
        if missing:
            return Block(kind="parts", words=f"it wants {missing}", firm=True)
    if piece.step == 0 or piece.place != BENCH:
        missing_tools = tools_missing(state, step, settings)
        if missing_tools and not piece.heats and not piece.work_s:
            name, condition = missing_tools[0]
            return Block(kind="tool", words=f"{name}: {condition}")
    index = next(i for i, s in enumerate(steps_of(state, piece)) if s.id == step.id)
    waiting = behind(state, piece, index)
    if waiting and not piece.heats:
        first = waiting[0]
        words = f"{kind_name(state, first)} comes first: same step on all"
        return Block(kind="set", words=words)
    return None


def scrapped_for_good(state: State) -> list[Workpiece]:
    """Scrapped pieces that no other was made for, the last one first."""
    replaced = {p.remade_from for p in state.pieces.values()}
    found = [
        p
        for p in state.pieces.values()
        if p.place == SCRAPPED and p.id not in replaced and not p.spare
    ]
    return sorted(found, key=lambda p: (-p.since_s, p.id))


def lost_part(state: State, assembly: Workpiece) -> Workpiece | None:
    """A scrapped piece that has to be made again for this assembly; None while enough are left."""
    for need in component_of(state, assembly).needs:
        parts = [p for p in pieces_of(state, assembly.order) if p.component == need.component]
        usable = [p for p in parts if p.place not in (SCRAPPED, FITTED) and not p.spare]
        left = sum(map(left_of, usable))
        ids = {p.id for p in parts}
        spoilt = [p for p in scrapped_for_good(state) if p.id in ids]
        if left < need.count and spoilt:
            return spoilt[0]
    return None


def waived(piece: Workpiece, step: Step, kind: str) -> bool:
    """Whether the smith has taken this piece at this step already, knowing the reason."""
    return f"{kind}@{step.id}" in piece.taken_anyway
