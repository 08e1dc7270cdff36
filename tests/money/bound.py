"""A second opinion on cut lists: bounds by linear programming, and exact answers where small.

Patterns are generated one by one (Gilmore and Gomory 1961) and the programs solved by HiGHS
through scipy; the exact answers come from HiGHS's branch and cut on the plain assignment model.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_matrix

from forgelog.money.cutting import Piece, Saw, StockBar

MOST_ROUNDS = 1000
SHORTER, STRIDE = 400, 8
"""Grains: how much shorter a bar may be taken for, and by which steps."""


def in_grains(
    pieces: Sequence[Piece], stock: Sequence[StockBar], saw: Saw
) -> tuple[list[int], list[int], list[tuple[int, int, bool]], int]:
    """Widths, counts, (room, number, offcut) of the stock, and the room of a new bar."""
    grain = saw.grain_mm
    kerf = math.ceil(saw.kerf_mm / grain - 1e-6)
    widths = [math.ceil(p.long_mm / grain - 1e-6) + kerf for p in pieces]
    bars = [(math.floor(b.long_mm / grain + 1e-6) + kerf, b.count, b.offcut) for b in stock]
    return widths, [p.count for p in pieces], bars, math.floor(saw.new_mm / grain + 1e-6) + kerf


def least_material(pieces: Sequence[Piece], stock: Sequence[StockBar], saw: Saw) -> float:
    """New bars that the bare lengths need, where nothing at all is wasted: below any LP."""
    widths, counts, bars, new = in_grains(pieces, stock, saw)
    wanted = sum(w * c for w, c in zip(widths, counts, strict=True))
    return max(0.0, (wanted - sum(room * many for room, many, _ in bars)) / new)


def lp_bound(pieces: Sequence[Piece], stock: Sequence[StockBar], saw: Saw) -> float:
    """New bars by the linear program over all patterns; rounded up, no cut list takes fewer."""
    widths, counts, bars, new = in_grains(pieces, stock, saw)
    kinds = [(new, None), *((room, many) for room, many, _ in bars)]
    most = max(room for room, _ in kinds)
    columns: list[tuple[int, np.ndarray]] = []
    for place, width in enumerate(widths):
        column = np.zeros(len(widths))
        column[place] = 1
        columns.append((0, column))
        assert width <= new
    bound = 0.0
    known = {(kind, column.tobytes()) for kind, column in columns}
    for _ in range(MOST_ROUNDS):
        cost = np.array([1.0 if kind == 0 else 0.0 for kind, _ in columns])
        cover = -np.array([column for _, column in columns]).T
        limits = np.array([[float(k == i) for k, _ in columns] for i in range(1, len(kinds))])
        rows = csr_matrix(np.vstack([cover, limits]) if len(kinds) > 1 else cover)
        right = np.array([*(-float(c) for c in counts), *(float(m) for _, m in kinds[1:] if m)])
        solved = linprog(cost, A_ub=rows, b_ub=right, method="highs")
        prices = -solved.ineqlin.marginals[: len(widths)]
        rents = -solved.ineqlin.marginals[len(widths) :]
        worth, ways = _best_fill(widths, counts, prices, most)
        # Prices scaled so that no new bar is worth more than it costs bound every cut list.
        scale = max(1.0, worth[new])
        value = float(prices @ np.array(counts)) - sum(
            (many or 0) * worth[room] for room, many in kinds[1:]
        )
        bound = max(bound, value / scale)
        if math.ceil(bound - 1e-6) >= math.ceil(float(solved.fun) - 1e-6):
            return bound
        added = 0
        for kind, (room, _) in enumerate(kinds):
            cost_of = 1.0 if kind == 0 else float(rents[kind - 1])
            # The best way for a bar that is a little shorter is another good way for this one.
            for less in range(room, max(0, room - SHORTER), -STRIDE):
                if worth[less] <= cost_of + 1e-7:
                    break
                column = ways(less)
                if (kind, column.tobytes()) not in known:
                    known.add((kind, column.tobytes()))
                    columns.append((kind, column))
                    added += 1
        if not added:
            return bound
    raise AssertionError("the linear program was not solved to its end")


def _best_fill(widths, counts, prices, most):  # type: ignore[no-untyped-def]
    """Greatest worth of a bar of every room up to `most`, and what makes it."""
    worth = np.zeros(most + 1)
    steps = []
    for place, (width, count) in enumerate(zip(widths, counts, strict=True)):
        left, step = min(count, most // width), 1
        while left > 0:
            step = min(step, left)
            taken = step * width
            if taken <= most and prices[place] > 1e-12:
                with_it = np.full(most + 1, -1.0)
                with_it[taken:] = worth[: most + 1 - taken] + step * prices[place]
                better = with_it > worth + 1e-12
                worth = np.where(better, with_it, worth)
                steps.append((place, step, taken, better))
            left -= step
            step *= 2

    def ways(room: int) -> np.ndarray:
        column = np.zeros(len(widths))
        for place, step, taken, better in reversed(steps):
            if better[room]:
                column[place] += step
                room -= taken
        return column

    return worth, ways


def exact(
    pieces: Sequence[Piece], stock: Sequence[StockBar], saw: Saw, most_new: int
) -> tuple[int, int, int]:
    """Fewest new bars, then bars of the rack, then offcuts, proved by branch and cut."""
    widths, counts, bars, new = in_grains(pieces, stock, saw)
    single = [(room, offcut) for room, many, offcut in bars for _ in range(many)]
    rooms = [new] * most_new + [room for room, _ in single]
    costs = [10_000.0] * most_new + [1.0 if offcut else 100.0 for _, offcut in single]
    kinds, places = len(widths), len(rooms)
    size = kinds * places + places
    cost = np.array([0.0] * (kinds * places) + costs)
    rows, low, high = [], [], []
    for kind in range(kinds):
        row = np.zeros(size)
        row[kind * places : (kind + 1) * places] = 1
        rows.append(row)
        low.append(counts[kind])
        high.append(counts[kind])
    for place, room in enumerate(rooms):
        row = np.zeros(size)
        row[[kind * places + place for kind in range(kinds)]] = widths
        row[kinds * places + place] = -room
        rows.append(row)
        low.append(-np.inf)
        high.append(0)
    upper = [float(counts[k]) for k in range(kinds) for _ in rooms] + [1.0] * places
    solved = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(size),
        bounds=Bounds(0, upper),
        options={"mip_rel_gap": 0.0},
    )
    assert solved.status == 0, solved.message
    opened = [round(v) for v in solved.x[kinds * places :]]
    rack = [o for o, (_, offcut) in zip(opened[most_new:], single, strict=True) if not offcut]
    offcuts = [o for o, (_, offcut) in zip(opened[most_new:], single, strict=True) if offcut]
    return sum(opened[:most_new]), sum(rack), sum(offcuts)
