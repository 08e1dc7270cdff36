"""A piece that took unusually many or few heats: worth a question, never a blame."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from forgelog.learn.rule import NOISE_DF, NOISE_SD
from forgelog.learn.student import two_sided_p

LEAST_RECORDS = 2
"""Fewer earlier pieces say nothing about what is usual."""
LIKELY = 0.10
"""Flagged only where fewer than one usual piece in ten would lie so far out."""


class Unusual(msgspec.Struct, frozen=True, kw_only=True):
    """One piece against those before it."""

    flagged: bool
    usual: float
    """Heats that the earlier pieces took, geometric mean."""
    t: float
    p: float
    """Share of usual pieces that would lie as far out, on either side."""


def judge_piece(taken: int, earlier: Sequence[int]) -> Unusual | None:
    """Whether a piece's heats are unusual beside those of earlier pieces at the same step.

    The spread of the earlier pieces is steadied by the stated noise, so that three equal counts
    do not make every other count a wonder.

    Args:
        taken: Heats of the piece, at least 1.
        earlier: Heats of earlier pieces at the same step by the same method.

    Returns:
        The judgement; None where fewer than two earlier pieces are known.

    Raises:
        ValueError: a count is below 1.

    Source:
        J. R. Crawford, D. C. Howell, The Clinical Neuropsychologist 12 (1998) 482, on ln heats.
    """
    if taken < 1 or any(heats < 1 for heats in earlier):
        raise ValueError("heats are counted from 1")
    n = len(earlier)
    if n < LEAST_RECORDS:
        return None
    logs = [math.log(heats) for heats in earlier]
    mean = math.fsum(logs) / n
    df = NOISE_DF + n - 1
    squares = math.fsum((y - mean) ** 2 for y in logs)
    spread = math.sqrt((NOISE_DF * NOISE_SD**2 + squares) / df)
    t = (math.log(taken) - mean) / (spread * math.sqrt((n + 1) / n))
    p = two_sided_p(t, df)
    usual = math.exp(mean)
    return Unusual(flagged=p < LIKELY and abs(taken - usual) >= 1.0 - 1e-9, usual=usual, t=t, p=p)
