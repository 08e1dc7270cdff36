"""How long a sum takes: `forgelog sums thread M12` beside a bare Python, and one cooling query.

    python -m tests.bench.sums [--runs 25]

The two programs are started in turns, so that a busy machine weighs on both.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import time

from forgelog.trade.cooling import cooling_curve
from forgelog.trade.sections import Section


def seconds_of(arguments: list[str]) -> float:
    """Run Python with these arguments to its end."""
    began = time.perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def query_s() -> list[float]:
    """Cooling queries, each of a bar whose curve is not known yet."""
    took = []
    for place in range(200):
        bar = Section(kind="square", a_mm=10 + place / 10)
        began = time.perf_counter()
        cooling_curve(bar).seconds(1150.0, 480.0)
        took.append(time.perf_counter() - began)
    return took


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=25)
    args = parser.parse_args()
    bare, ours = [], []
    for run in range(args.runs + 1):
        one = seconds_of(["-c", "pass"])
        two = seconds_of(["-m", "forgelog", "sums", "thread", "M12"])
        if run:
            # The first pair fills the machine's caches and is not counted.
            bare.append(one)
            ours.append(two)
    ratios = [b / a for a, b in zip(bare, ours, strict=True)]
    took = query_s()
    print(f"python -c pass             median {statistics.median(bare) * 1000:6.1f} ms")
    print(f"forgelog sums thread M12   median {statistics.median(ours) * 1000:6.1f} ms")
    print(f"ratio of medians           {statistics.median(ours) / statistics.median(bare):6.2f}")
    print(
        f"ratio                      median {statistics.median(ratios):6.2f} of {args.runs} pairs"
    )
    print(f"cooling query, new curve   median {statistics.median(took) * 1000:6.2f} ms")
    print(f"                           most   {max(took) * 1000:6.2f} ms")
    return 0


if __name__ == "__main__":
    sys.exit(main())
