"""An order in plain text, for the shell."""

from __future__ import annotations

from collections.abc import Sequence

from forgelog.desk.order_view import BarShown, OrderShown, PieceShown
from forgelog.recipe.plain import shortened
from forgelog.work.state import SCRAPPED


def order_rows(orders: Sequence[OrderShown]) -> list[str]:
    """One line an order: letter, label, title, who for, how far, promised, what holds it up."""
    table = [
        (
            order.letter or "-",
            shortened(order.label, 16),
            shortened(order.title, 32),
            _for(order),
            order.progress.words,
            order.promised or "no date",
            _standing(order),
        )
        for order in orders
    ]
    wide = [max(len(row[i]) for row in table) for i in range(6)] if table else []
    return [
        "  ".join(
            [*(cell.ljust(wide[i]) for i, cell in enumerate(row[:6]) if wide[i]), row[6]]
        ).rstrip()
        for row in table
    ]


def order_lines(order: OrderShown) -> list[str]:
    """The readout of one order."""
    sets = "1 set" if order.count == 1 else f"{order.count} sets"
    lines = [
        f"{order.label}: {order.title} ({order.id})",
        f"  recipe    {'none, said as it is done' if order.free else order.recipe}, {sets}",
        f"  taken     {order.taken}",
        f"  promised  {order.promised or 'no date'}",
        f"  how far   {order.progress.words}",
        *_customer(order),
    ]
    if order.offered:
        lines.append(f"  offered   {order.offered}")
    if standing := _standing(order):
        lines.append(f"  stands    {standing}")
    for size in order.sizes:
        whose = "the customer's" if size.given else "the recipe's"
        lines.append(f"  size      {size.name} {size.shown}, {whose}")
    own = "as it was said" if order.free else "the recipe's"
    lines.extend(f"  bar       {_bar(bar, own)}" for bar in order.bars)
    lines.extend(f"  to buy    {bought.words}" for bought in order.bought)
    lines.extend(f"  spare     {spare}" for spare in order.spares)
    lines.extend(f"  left out  {words}" for words in order.left_out)
    lines.extend(f"  note      {note}" for note in order.notes)
    wide = max((20, *(len(piece.slot) for piece in order.pieces)))
    for piece in order.pieces:
        lines.append(f"  {piece.slot:<{wide}} {_piece(piece)}")
        lines.extend(f"  {'':<{wide}} make it as its twin: {size}" for size in piece.make_as)
    lines.extend(f"  ! {problem}" for problem in order.problems)
    return lines


def _piece(piece: PieceShown) -> str:
    note = f"; note: {piece.note}" if piece.note else ""
    if piece.place == SCRAPPED:
        return f"{piece.place}{note}"
    step = f"next: {piece.step}" if piece.step else "all steps done"
    where = f", {piece.where}" if piece.where else ""
    return f"{piece.place}{where}, {piece.done} of {piece.steps}, {step}{note}"


def _for(order: OrderShown) -> str:
    if order.for_shop:
        return "for the shop"
    name = order.customer.name if order.customer is not None else ""
    return f"for {shortened(name, 24)}" if name else ""


def _customer(order: OrderShown) -> list[str]:
    one = order.customer
    if order.for_shop:
        return ["  for       the shop itself"]
    if one is None:
        return [f"  customer  {order.customer_file} (not there)"]
    lines = [f"  for       {one.name or 'no name'} ({order.customer_file})"]
    lines += [f"            {line}" for line in one.address]
    lines += [f"            {one.notes}"] if one.notes else []
    lines += [f"            {line}" for line in one.more]
    return lines + ([f"  look at   {one.problem}"] if one.problem else [])


def _bar(bar: BarShown, own_words: str) -> str:
    cut = f", {bar.cut} each" if bar.cut else ""
    if not bar.given:
        return f"{bar.component} {bar.shown}{cut}, {own_words}"
    own = f"{bar.own}, {bar.own_cut}" if bar.own_cut else bar.own
    return f"{bar.component} {bar.shown}{cut}, chosen (the recipe's: {own})"


def _standing(order: OrderShown) -> str:
    if order.delivered:
        how = "" if order.delivered == "delivered" else f", {order.delivered}"
        return f"delivered {order.delivered_on}{how}"
    if order.closed is not None:
        return f"{'called off' if order.called_off else 'closed'}: {order.closed}"
    if order.held is not None:
        return "held" if order.held == "held" else f"held: {order.held}"
    if order.problems:
        return "its recipe cannot be worked from"
    if order.progress.finished:
        return "finished"
    return "" if order.begun else "not begun"
