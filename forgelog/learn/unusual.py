"""A piece that took unusually many or few heats: worth a question, never a blame."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.learn.rule import NOISE_DF, NOISE_SD
from forgelog.learn.student import two_sided_p

LEAST_RECORDS = 2
"""Fewer earlier pieces say nothing about what is usual."""
LIKELY = 0.05
"""Flagged only where fewer than one usual piece in twenty would lie so far out. In simulated shops
that keeps wrong flags below one in ten even where pieces scatter twice as much as is stated."""


class Unusual(msgspec.Struct, frozen=True, kw_only=True):
    """One piece against those before it."""

    flagged: bool
    usual: float
    """Heats that a piece at this place in its run was to take, by the earlier ones."""
    t: float
    p: float
    """Share of usual pieces that would lie as far out, on either side."""


def judge_piece(
    taken: int,
    earlier: Sequence[int],
    *,
    paces: Sequence[float] = (),
    noise: float = NOISE_SD,
) -> Unusual | None:
    """Whether a piece's heats are unusual beside those of earlier pieces at the same step.

    The spread of the earlier pieces is steadied by what is usual in the shop, so that three equal
    counts do not make every other count a wonder, and a smith whose pieces scatter is not asked
    about every other one.

    Args:
        taken: Heats of the piece, at least 1.
        earlier: Heats of earlier pieces at the same step by the same method.
        paces: How many times the heats of a steady run each of the earlier pieces, and then this
            one, was to take by its place in its run; empty where all were alike.
        noise: Log-spread of one piece about its step in this shop.

    Returns:
        The judgement; None where fewer than two earlier pieces are known.

    Raises:
        ValueError: a count is below 1, or there is not one pace for each piece.

    Source:
        J. R. Crawford, D. C. Howell, The Clinical Neuropsychologist 12 (1998) 482, on ln heats.
    """
    if taken < 1 or any(heats < 1 for heats in earlier):
        raise ValueError("heats are counted from 1")
    n = len(earlier)
    if n < LEAST_RECORDS:
        return None
    paces = paces or (1.0,) * (n + 1)
    logs = [math.log(heats / pace) for heats, pace in zip((*earlier, taken), paces, strict=True)]
    this = logs.pop()
    mean = math.fsum(logs) / n
    df = NOISE_DF + n - 1
    squares = math.fsum((y - mean) ** 2 for y in logs)
    spread = math.sqrt((NOISE_DF * noise**2 + squares) / df)
    t = (this - mean) / (spread * math.sqrt((n + 1) / n))
    p = two_sided_p(t, df)
    usual = paces[-1] * math.exp(mean)
    return Unusual(flagged=p < LIKELY and abs(taken - usual) >= 1.0 - 1e-9, usual=usual, t=t, p=p)
