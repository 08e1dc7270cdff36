"""How an order came out against what was offered: hours by kind, material, and why."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from forgelog.desk.quote_hours import kind_of
from forgelog.desk.quote_past import Past, number
from forgelog.desk.quote_stock import Costing, cut_kg, stock_id
from forgelog.desk.quote_told import ActualTold, ComparedTold
from forgelog.learn.rows import StepRow
from forgelog.money.lines import quantity_of
from forgelog.money.rates import HOURS, OF_STEPS
from forgelog.recipe.plain import harmless
from forgelog.recipe.resolved import at_the_fire
from forgelog.trade.errors import SumError
from forgelog.trade.sections import SectionError, show_section
from forgelog.work.progress import progress_of
from forgelog.work.queries import component_of, pieces_of, recipe_of
from forgelog.work.state import SCRAPPED, Order, QuoteRecord, Workpiece

EARNED_HELP = "overhead and your own pay are still to come out of it"


def actual_of(order: Order, costing: Costing) -> ActualTold | None:
    """How the work came out; None before any was done.

    Args:
        order: With its offers; the last one accepted, else the last one, is compared with.
        costing: The order's recipe and record.
    """
    past, state = costing.past, costing.state
    rows = tuple(row for row in past.steps if row.order == order.id)
    if not rows:
        return None
    offer = _offer(order)
    hours = _hours(order, rows, past)
    lines = (
        *_hour_lines(order, offer, hours, rows, costing),
        *_material_lines(order, offer, costing),
    )
    known = {kind: h for kind, h in hours.items() if h is not None}
    all_h = sum(known.values(), Decimal(0))
    finished = progress_of(state, order).finished
    earned, words = "", "not every piece is made"
    if finished:
        earned, words = _earned(offer, lines, known, all_h, costing)
    return ActualTold(
        finished=finished,
        lines=lines,
        hours=f"{all_h:f}",
        earned_hour=earned,
        earned_words=words,
    )


def _offer(order: Order) -> QuoteRecord | None:
    taken = [quote for quote in order.quotes if quote.answer == "accepted"] or list(order.quotes)
    return taken[-1] if taken else None


def _hours(order: Order, rows: tuple[StepRow, ...], past: Past) -> dict[str, Decimal | None]:
    """Hours by kind: those of steps off the clock, the others as they were told."""
    fire_s = sum(
        past.session_fire_s[session] * hand_s / past.session_hand_s[session]
        for session, hand_s in _hand_by_session(rows).items()
        if past.session_hand_s.get(session)
    )
    found: dict[str, Decimal | None] = {}
    for kind in HOURS:
        if kind == "fire":
            found[kind] = quantity_of(fire_s / 3600)
        elif kind in OF_STEPS:
            cold_s = sum(r.work_s for r in rows if kind_of(r.kind) == kind)
            found[kind] = quantity_of(cold_s / 3600)
        else:
            found[kind] = number(order.hours.get(kind, ""))
    return found


def _hand_by_session(rows: tuple[StepRow, ...]) -> dict[str, float]:
    hand_s: dict[str, float] = {}
    for row in rows:
        if at_the_fire(row.kind):
            hand_s[row.session] = hand_s.get(row.session, 0.0) + row.work_s
    return hand_s


def _hour_lines(
    order: Order,
    offer: QuoteRecord | None,
    hours: dict[str, Decimal | None],
    rows: tuple[StepRow, ...],
    costing: Costing,
) -> Iterator[ComparedTold]:
    for kind, actual in hours.items():
        wanted = number(offer.hours.get(kind, "")) if offer is not None else None
        if not wanted and not actual:
            continue
        known = wanted is not None and actual is not None
        longer = None if not known else (actual or 0) >= (wanted or 0)
        why = _why_hours(kind, order, rows, costing, longer=longer)
        if actual is None:
            why = f"not told: forgelog order hours {harmless(order.label)} {kind}=1"
        yield _compared(f"hours:{kind}", HOURS[kind], wanted, actual, "h", why)


def _material_lines(
    order: Order, offer: QuoteRecord | None, costing: Costing
) -> Iterator[ComparedTold]:
    state = costing.state
    cut: dict[str, float] = {}
    words: dict[str, str] = {}
    spoilt = 0
    for piece in pieces_of(state, order.id):
        stock = component_of(state, piece).stock
        if stock is None or not piece.begun:
            continue
        try:
            each_kg = cut_kg(stock, costing.kerf_mm)
        except (SectionError, SumError):
            continue
        if each_kg is None:
            continue
        steel = recipe_of(state, piece).steel
        name = stock_id(stock.section, steel, costing.units)
        words[name] = f"{show_section(stock.section, costing.units)}, {harmless(steel)}"
        cut[name] = cut.get(name, 0.0) + each_kg * (piece.lot or 1)
        spoilt += piece.place == SCRAPPED
    quantities = offer.quantities if offer is not None else {}
    why = f"{_pieces(spoilt)} scrapped" if spoilt else ""
    for name, bare_kg in cut.items():
        kg = quantity_of(bare_kg * (1 + float(costing.rates.waste)), 3)
        wanted = number(quantities.get(name, ""))
        longer = wanted is not None and kg > wanted
        yield _compared(name, words[name], wanted, kg, "kg", why if longer else "")


def _compared(
    name: str, words: str, wanted: Decimal | None, actual: Decimal | None, unit: str, why: str
) -> ComparedTold:
    difference = ""
    if wanted is not None and actual is not None:
        difference = f"{actual - wanted:+f} {unit}"
    return ComparedTold(
        id=name,
        words=words,
        quoted="" if wanted is None else f"{wanted:f} {unit}",
        actual="" if actual is None else f"{actual:f} {unit}",
        difference=difference,
        why=why,
    )


def _why_hours(
    kind: str,
    order: Order,
    rows: tuple[StepRow, ...],
    costing: Costing,
    *,
    longer: bool | None,
) -> str:
    """The reasons that the journal knows for having taken longer, or (False) less long."""
    mine = [r for r in rows if kind_of(r.kind) == kind]
    counted = [r for r in mine if r.heats and r.planned and not r.lot]
    taken = sum(r.heats or 0 for r in counted)
    planned = sum(r.planned or 0 for r in counted)
    reasons = []
    if taken > planned and longer is not False:
        reasons.append(f"{_heats(taken - planned)} more than planned ({taken} for {planned})")
    if taken < planned and longer is not True:
        reasons.append(f"{_heats(planned - taken)} fewer than planned ({taken} for {planned})")
    if longer is False:
        return "; ".join(reasons)
    times = costing.past.at_fire.times if kind == "fire" else 1.0
    spoilt = [p for p in pieces_of(costing.state, order.id) if p.place == SCRAPPED]
    lost_s = sum(r.work_s for r in mine if r.workpiece in {p.id for p in spoilt})
    if spoilt and lost_s:
        hours = quantity_of(lost_s / 3600 * times)
        reasons.append(f"{_spoilt_words(spoilt)}: {hours} h in what was scrapped")
    first_s = _first_s(mine)
    if first_s > 0.05 * 3600:
        reasons.append(f"first pieces took {quantity_of(first_s / 3600 * times)} h more")
    return "; ".join(reasons)


def _heats(count: int) -> str:
    return "1 heat" if count == 1 else f"{count} heats"


def _first_s(rows: list[StepRow]) -> float:
    """What the first piece of each step took more than the later ones of it, on average."""
    steps: dict[tuple[str, str, str, str], list[StepRow]] = {}
    for row in rows:
        if not (row.scrapped or row.again or row.lot):
            steps.setdefault(row.key, []).append(row)
    more_s = 0.0
    for done in steps.values():
        first = [r.work_s for r in done if r.run == 1]
        later = [r.work_s for r in done if r.run > 1]
        if first and later:
            more_s += first[0] - sum(later) / len(later)
    return more_s


def _spoilt_words(spoilt: list[Workpiece]) -> str:
    why = list(dict.fromkeys(harmless(p.scrapped_why) for p in spoilt if p.scrapped_why))
    return f"{_pieces(len(spoilt))} scrapped" + (f" ({', '.join(why)})" if why else "")


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _earned(
    offer: QuoteRecord | None,
    lines: tuple[ComparedTold, ...],
    known: dict[str, Decimal],
    all_h: Decimal,
    costing: Costing,
) -> tuple[str, str]:
    """What an hour earned, and how that is reckoned."""
    currency = costing.rates.currency
    net = number(offer.net) if offer is not None else None
    if offer is None or net is None:
        return "", "no price was offered (`forgelog quote ORDER --offer`)"
    if offer.currency != currency.code:
        return "", f"the price was in {harmless(offer.currency) or 'no currency'}"
    if not all_h:
        return "", "no hours are known"
    spent = Decimal(0)
    by_id = {line.id: line for line in lines}
    for name, text in offer.amounts.items():
        amount = number(text)
        if amount is None or name.startswith("hours:") or name in _NOT_SPENT:
            continue
        line = by_id.get(name)
        wanted = number(line.quoted) if line is not None else None
        actual = number(line.actual) if line is not None else None
        if wanted and actual is not None:
            amount = amount * actual / wanted
        spent += currency.rounded(amount)
    words = (
        f"{currency.shown(net)} without tax less {currency.shown(spent)} for material, fire and "
        f"what was paid to others, over {all_h:f} h; {EARNED_HELP}"
    )
    missing = [HOURS[k] for k in offer.hours if k in HOURS and k not in known]
    if missing:
        words += f"; without the hours of {', '.join(missing)}, which nobody has told"
    return currency.plain((net - spent) / all_h), words


_NOT_SPENT = frozenset(("overhead", "remakes", "margin", "minimum"))
