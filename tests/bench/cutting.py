"""How many bars the cut list takes beside the least that could do, and how long it takes to decide.

    python tests/bench/cutting.py [FAMILY...] [--seeds N] [--most PIECES] [--no-lp]

For each family of lengths and size: problems, how many are proved to take the fewest new bars, how
many take 0, 1 or more bars above the linear program rounded up (solved by scipy, for those that
are not proved), mean and longest time. The time is that of this process alone.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections import Counter
from pathlib import Path

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).parents[2]))

from forgelog.money.cutting import plan_cuts
from tests.money.bound import lp_bound
from tests.money.instances import FAMILIES, made, saw_of

SIZES = ((10, 4), (30, 8), (60, 15), (120, 20), (200, 12), (200, 30), (60, 60), (200, 200))
"""Pieces and lengths at most; in the last two every piece has a length of its own."""


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else "")
    parser.add_argument("families", nargs="*", metavar="FAMILY", help=", ".join(FAMILIES))
    parser.add_argument("--seeds", type=int, default=10)
    parser.add_argument("--most", type=int, default=200, metavar="PIECES")
    parser.add_argument("--no-lp", action="store_true", help="only the times and what is proved")
    args = parser.parse_args()
    print("family    pieces lengths  problems  proved  above LP 0/1/more  mean s  longest s")
    for family in args.families or FAMILIES:
        for pieces, kinds in SIZES:
            if pieces <= args.most:
                print(row(family, pieces, kinds, args.seeds, lp=not args.no_lp), flush=True)


def row(family: str, pieces: int, kinds: int, seeds: int, *, lp: bool) -> str:
    """One line of the table."""
    saw = saw_of(family)
    times, above, proved = [], Counter[int](), 0
    for seed in range(seeds):
        wanted, stock = made(family, seed, pieces, kinds)
        began = time.process_time()
        plan = plan_cuts(wanted, stock, saw)
        times.append(time.process_time() - began)
        proved += plan.fewest
        if lp and not plan.fewest:
            above[min(2, plan.new - math.ceil(lp_bound(wanted, stock, saw) - 1e-6))] += 1
    told = f"{above[0]}/{above[1]}/{above[2]}" if lp else "-"
    mean = sum(times) / len(times)
    return (
        f"{family:9} {pieces:6} {kinds:7} {seeds:9} {proved:7} {told:>18} "
        f"{mean:7.3f} {max(times):10.3f}"
    )


if __name__ == "__main__":
    main()
