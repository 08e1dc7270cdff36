"""Every rest of a piece in lines: how it was kept, and the sum behind the verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from forgelog.desk.review_facts import RestTold
from forgelog.desk.review_words import cut, folded
from forgelog.units import show_time

WIDE = 112
"""From so many columns on the sum stands in the same line."""
_NAME, _VERDICT, _RESTED = 26, 8, 28


def rest_lines(rests: Sequence[RestTold], width: int) -> Iterator[str]:
    """The rests, piece by piece.

    Args:
        rests: In the order of their pieces, then of time.
        width: Columns that no line exceeds, at least 80.
    """
    name_wide = _NAME if width >= WIDE else width - _VERDICT - _RESTED - 8
    for piece, of_piece in groupby(rests, key=lambda rest: rest.piece):
        yield cut(piece, width)
        for rest in of_piece:
            kept = rest.verdict in ("kept", "unsure")
            verdict = rest.verdict if kept else rest.verdict.upper()
            row = f"  {cut(rest.do, name_wide):{name_wide}}  {verdict:{_VERDICT}}  "
            row += f"{cut(rested_words(rest), _RESTED):{_RESTED}}"
            if rest.by_sum and len(row) + 2 + len(rest.by_sum) <= width:
                yield f"{row}  {rest.by_sum}"
                continue
            yield row.rstrip()
            yield from folded(rest.by_sum, width, "      ")


def rested_words(rest: RestTold) -> str:
    """How long it rested, of how long: "25 min of 20 min to 31 min"."""
    if rest.verdict == "skipped" and not rest.rested_min:
        return "never laid to rest"
    rested = show_time(60.0 * (rest.rested_min or 0.0))
    if rest.low_min is not None and rest.high_min is not None and rest.high_min > rest.low_min:
        low, high = show_time(60.0 * rest.low_min), show_time(60.0 * rest.high_min)
        return f"{rested} of {low} to {high}"
    if rest.needed_min:
        return f"{rested} of {show_time(60.0 * rest.needed_min)}"
    return rested
