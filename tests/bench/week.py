"""Weeks at the demo's open orders, each by another simulated smith who follows the advice.

    python tests/bench/week.py [--smiths N] [--first SEED]

A smith takes what the advice names first, press by press, on the real keys and facts of the floor;
what his heats truly take he knows and the advice does not. A piece is burnt that lay hot in the
fire for longer than the planning's own sum allows, looked at before every choice he makes. Shown
for each: days, pieces burnt, rests cut short, pieces scrapped. The exit code is
1 where anything burnt, a rest was short or an order was not finished. Nothing here was measured at
a fire.

Measured: 22 smiths, each with all three orders finished on the fourth day, nothing burnt, no rest
short.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).parents[2]))

from forgelog.learn.rests import see_rests
from forgelog.work.state import SCRAPPED
from tests.desk.test_week import ALL, Watched, worked


def main(argv: list[str]) -> int:
    """Print a line for every smith."""
    parser = argparse.ArgumentParser(description="Weeks by the advice.")
    parser.add_argument("--smiths", type=int, default=20)
    parser.add_argument("--first", type=int, default=0, help="seed of the first smith")
    a = parser.parse_args(argv)
    bad = 0
    for seed in range(a.first, a.first + a.smiths):
        try:
            state, days = worked(seed, ALL)
        except AssertionError as fault:
            print(f"smith {seed:3}: {fault}", flush=True)
            bad += 1
            continue
        short = [r for r in see_rests(state, practice=True) if r.verdict in ("short", "skipped")]
        scrapped = [p for p in state.pieces.values() if p.place == SCRAPPED]
        burnt = sorted(Watched.burnt)
        print(
            f"smith {seed:3}: {days} days, burnt {len(burnt)}, rests short {len(short)}, "
            f"scrapped {len(scrapped)}{': ' if burnt else ''}{'; '.join(burnt)}",
            flush=True,
        )
        bad += bool(burnt or short or scrapped)
    print(f"{a.smiths - bad} of {a.smiths} smiths with nothing burnt and no rest short")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
