"""How the floor calls things: orders by letter, pieces by name, steps by their last words."""

from __future__ import annotations

from forgelog.recipe.resolved import Step
from forgelog.work.queries import component_of, live, pieces_of
from forgelog.work.state import State, Workpiece


def letters(state: State) -> dict[str, str]:
    """A letter for each order that is neither closed nor without pieces, in order of taking.

    Empty when there is only one: then no letter is needed.
    """
    if len(state.orders) < 2:
        return {}
    worked = {p.order for p in state.pieces.values()}
    shown = [o for o in state.orders.values() if o.closed is None and o.pins and o.id in worked]
    shown.sort(key=lambda o: (o.taken_s, o.id))
    if len(shown) < 2:
        return {}
    return {o.id: "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i % 26] for i, o in enumerate(shown)}


def kind_name(state: State, piece: Workpiece) -> str:
    """The component's name with its mark: "strap, left"."""
    name = component_of(state, piece).name
    return f"{name}, {piece.mark}" if piece.mark else name


def mates(state: State, piece: Workpiece) -> list[Workpiece]:
    """All workpieces of the same component and mark in the order, by serial."""
    found = [
        p
        for p in pieces_of(state, piece.order)
        if p.component == piece.component and p.mark == piece.mark
    ]
    return sorted(found, key=lambda p: p.serial)


def differs(state: State, piece: Workpiece) -> bool:
    """Whether it is told apart from its mates: trouble, remake, gauge, heat treatment."""
    if piece.troubles or piece.remade_from or piece.gauged or piece.spare:
        return True
    return any(r.kind in ("normalise", "anneal", "harden", "temper") for r in piece.done)


def number_of(state: State, piece: Workpiece) -> tuple[int, int]:
    """Which of the alike places in the order the piece fills, and how many of them there are.

    A remade piece has the number of the one it replaces, and the others keep theirs.
    """
    alike = [p for p in mates(state, piece) if p.spare == piece.spare]
    slots = list(dict.fromkeys(p.slot for p in alike))
    return slots.index(piece.slot) + 1, len(slots)


def remade_words(piece: Workpiece) -> str:
    """What is said of a piece that stands for a scrapped one."""
    return "was a spare" if piece.from_spare else "remade"


def short_name(state: State, piece: Workpiece, *, exact: bool = False) -> str:
    """The piece on one line: "A strap, left"; with its number only when it differs from its mates.

    Args:
        state: What stands.
        piece: The piece.
        exact: True where a choice has to name one of several alike pieces.
    """
    letter = letters(state).get(piece.order, "")
    name = kind_name(state, piece)
    number, of = number_of(state, piece)
    if piece.spare:
        name = f"{name}, spare {number}" if of > 1 else f"{name}, spare"
    elif of > 1 and (exact or differs(state, piece)):
        name = f"{name} {number}"
    if piece.lot:
        name = f"{name} x {piece.lot}"
    if piece.remade_from:
        name = f"{name}, {remade_words(piece)}"
    return f"{letter} {name}".strip()


def card_name(state: State, piece: Workpiece) -> str:
    """The piece on its card: "STRAP · left, 1 of 2"."""
    name = component_of(state, piece).name.upper()
    number, of = number_of(state, piece)
    which = f"{number} of {of}" if of > 1 else ""
    if piece.spare:
        which = f"spare {which}".strip()
    words = [w for w in (piece.mark, which) if w]
    if piece.lot:
        words.append(f"{piece.lot} in hand")
    if piece.remade_from:
        words.append(remade_words(piece))
    return f"{name} · {', '.join(words)}" if words else name


def step_title(step: Step) -> str:
    """What the step is called in a list: its verb, with the cycle where there are several."""
    return f"{step.do}, {step.cycle} of {step.cycles}" if step.cycles > 1 else step.do


_SMALL_WORDS = {
    "A",
    "AN",
    "AND",
    "AT",
    "BEHIND",
    "FOR",
    "IN",
    "OF",
    "ON",
    "OR",
    "THE",
    "TO",
    "WITH",
}
"""Words that no verb of the far view ends with."""


def verb_short(step: Step) -> str:
    """The step's verb in at most 10 letters for the far view."""
    words = step.do.upper().split()
    best = ""
    for word in words:
        longer = f"{best} {word}".strip()
        if len(longer) > 10:
            break
        best = longer
    while " " in best and best.rsplit(" ", 1)[1] in _SMALL_WORDS:
        best = best.rsplit(" ", 1)[0]
    return best or step.do.upper()[:10]


def ready_like(state: State, piece: Workpiece) -> list[Workpiece]:
    """Pieces that could be taken for this one: same component, mark, step and place, not named."""
    if differs(state, piece):
        return [piece]
    same = [
        p
        for p in mates(state, piece)
        if p.place == piece.place
        and p.step == piece.step
        and p.pin == piece.pin
        and live(p)
        and not differs(state, p)
    ]
    return sorted(same, key=lambda p: (p.since_s, p.serial)) or [piece]
