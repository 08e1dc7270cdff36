"""Time from the start of the program to its first full screen, beside a minimal app's.

    python -m tests.bench.start [--runs 15] [-- arguments of forgelog]

The two are started in turns, so that a busy machine weighs on both. Prints medians and the ratio.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence

from tests.bench.idle import used_s
from tests.terminal.driver import Terminal


def seconds_until(arguments: Sequence[str], words: str, env: dict[str, str]) -> tuple[float, float]:
    """Start, wait for the words, end; return how long it took, and processor time (Linux)."""
    began = time.perf_counter()
    with Terminal(arguments, width=100, height=30, env=env, whole_s=0) as terminal:
        terminal.wait_for(words)
        took = time.perf_counter() - began
        cpu = used_s(terminal.process.pid)
        terminal.press("ctrl+c")
    return took, cpu


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=15)
    parser.add_argument("--words", default="BACKSPACE", help="what the full screen shows")
    parser.add_argument("rest", nargs="*", help="how to start forgelog; the canned floor if none")
    args = parser.parse_args()
    ours = args.rest or ["-m", "tests.terminal.canned_floor", "in hand"]
    with tempfile.TemporaryDirectory() as folder:
        env = {f"FORGELOG_{name}": f"{folder}/{name}" for name in ("DEVICE", "CACHE", "BOOK")}
        least: list[tuple[float, float]] = []
        real: list[tuple[float, float]] = []
        for run in range(args.runs + 1):
            minimal = seconds_until(["-m", "tests.bench.minimal_app"], "ready for a key", env)
            mine = seconds_until(ours, args.words, env)
            if run:
                # The first pair fills the machine's caches and is not counted.
                least.append(minimal)
                real.append(mine)
    for what, of in (("on the clock", 0), ("of processor", 1)):
        a, b = ([took[of] for took in runs] for runs in (least, real))
        ratio = statistics.median(y / x for x, y in zip(a, b, strict=True))
        print(
            f"{what}: minimal app {statistics.median(a) * 1000:.0f} ms, "
            f"forgelog {statistics.median(b) * 1000:.0f} ms, median ratio {ratio:.2f}"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
