"""Pairs and sets in lines: every step side by side, and what differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from forgelog.desk.review_facts import PairLineTold, PairTold
from forgelog.desk.review_read import Past
from forgelog.desk.review_scope import Scope
from forgelog.desk.review_words import counted, cut, folded, order_words, row_rest, row_step
from forgelog.learn.pairs import GAUGE, HEATS, REST, Pair, PairLine, PairPiece, compare_pieces
from forgelog.learn.rows import Rows
from forgelog.recipe.plain import harmless
from forgelog.recipe.prose import render
from forgelog.units import UnitSystem, show_clock, show_length, show_time

_CELL, _WIDE_CELL = 10, 14
_MEASURE = 6


def tell_pairs(past: Past, scope: Scope) -> tuple[PairTold, ...]:
    """Pairs and sets that were worked on in the shown session, or all that the scope names."""
    wanted = {
        (row.order, row.component)
        for row in (*past.steps, *past.rests, *past.gauges)
        if scope.takes(row.recipe, row.session) and (scope.recipe or row.session == past.shown)
    }
    rows = Rows(steps=past.steps, rests=past.rests, gauges=past.gauges)
    return tuple(
        _pair(past, pair, scope.units)
        for pair in compare_pieces(rows)
        if (pair.order, pair.component) in wanted
    )


def _pair(past: Past, pair: Pair, units: UnitSystem) -> PairTold:
    names = tuple(_name(pair, piece) for piece in pair.pieces)
    master = next((n for n, piece in zip(names, pair.pieces, strict=True) if piece.master), "")
    return PairTold(
        order=pair.order,
        title=f"{order_words(past.orders[pair.order])}: {harmless(pair.component_name)}",
        pieces=names,
        workpieces=tuple(piece.workpiece for piece in pair.pieces),
        master=master,
        lines=tuple(_line(line, names, units) for line in pair.lines),
    )


def _name(pair: Pair, piece: PairPiece) -> str:
    """The piece within its set: "left", or "left 2" where there are several, or "2"."""
    name = piece.slot.removeprefix(pair.component_name).strip() or str(piece.serial)
    alone = sum(other.mark == piece.mark for other in pair.pieces) == 1
    if piece.mark and alone:
        name = piece.mark
    return harmless(f"{name}, remade" if piece.remade else name)


def _line(line: PairLine, names: Sequence[str], units: UnitSystem) -> PairLineTold:
    do = row_rest(line.row, units) if line.measure == REST else row_step(line.row, units)
    if line.measure == GAUGE:
        do = f"{do}: {render(line.what, units)}"
    shown = tuple(_shown(line, i, units) for i in range(len(line.values)))
    differs = ""
    if line.unlike is not None:
        differs = f"{names[line.unlike]}: {_by(line, units)}"
    return PairLineTold(
        step=line.step,
        do=do,
        measure=line.measure,
        values=tuple(None if value is None else round(value, 3) for value in line.values),
        shown=shown,
        unlike=line.unlike,
        differs=differs,
    )


def _shown(line: PairLine, i: int, units: UnitSystem) -> str:
    value = line.values[i]
    if line.measure == REST:
        return line.verdicts[i] or "-"
    if value is None:
        return "?" if line.measure == HEATS else "-"
    if line.measure == HEATS:
        return f"{value:g}"
    if line.measure == GAUGE:
        return show_length(value, units, fine=True)
    return show_clock(value)


def _by(line: PairLine, units: UnitSystem) -> str:
    if line.measure == REST:
        assert line.unlike is not None
        return line.verdicts[line.unlike]
    more = "more" if line.by > 0 else "less"
    size = abs(line.by)
    if line.measure == HEATS:
        whole = size == round(size)
        return f"{counted(round(size), 'heat') if whole else f'{size:.1f} heats'} {more}"
    if line.measure == GAUGE:
        return f"{show_length(size, units, fine=True)} {more}"
    return f"{show_time(size)} {'longer' if line.by > 0 else 'shorter'}"


def pair_lines(pairs: Sequence[PairTold], width: int) -> Iterator[str]:
    """Pairs and sets as tables.

    Args:
        pairs: What is told.
        width: Columns that no line exceeds, at least 80.
    """
    for number, pair in enumerate(pairs):
        if number:
            yield ""
        yield cut(pair.title, width)
        widest = _WIDE_CELL if len(pair.pieces) <= 3 else _CELL
        cell = max(_CELL, *(min(widest, len(name) + 2) for name in pair.pieces))
        many = max(1, (width - 24 - _MEASURE - 3) // cell)
        for first in range(0, len(pair.pieces), many):
            yield from _table(pair, range(first, min(first + many, len(pair.pieces))), cell, width)
        if pair.master:
            words = f"The others are gauged against {pair.master}, the first that was gauged."
            yield from folded(words, width, "  ")
        yield from _odd_ones(pair, width)


def _table(pair: PairTold, columns: range, cell: int, width: int) -> Iterator[str]:
    name_wide = min(40, width - _MEASURE - 3 - cell * len(columns))
    heads = "".join(f"{cut(pair.pieces[i], cell - 1):>{cell}}" for i in columns)
    yield f"  {'':{name_wide}} {'':{_MEASURE}}{heads}"
    before = ""
    for line in pair.lines:
        # What differs carries a sign of its own beside its value.
        cells = "".join(
            f"{('*' if line.unlike == i else '') + cut(line.shown[i], cell - 2):>{cell}}"
            for i in columns
        )
        name = "" if line.do == before else line.do
        before = line.do
        yield f"  {cut(name, name_wide):{name_wide}} {line.measure:{_MEASURE}}{cells}"


def _odd_ones(pair: PairTold, width: int) -> Iterator[str]:
    odd = [line for line in pair.lines if line.differs]
    if not odd:
        yield "  Alike in every step."
        return
    for line in odd:
        yield from folded(f"* {line.do}, {line.differs}", width, "  ")
