"""Time from a key to the first paint that shows what it did, journal and disk included.

    python -m tests.bench.key_to_paint [--presses 60] [--book FOLDER]

ENTER begins bench work and BACKSPACE takes that back, over a second apart, so that no press is
taken for a bounce. The real floor in a pseudo-terminal; the book lies on --book's disk.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import time
from pathlib import Path

from tests.terminal.driver import Terminal


def bottom(text: str) -> str:
    """The keys' rows."""
    return "\n".join(text.split("\n")[-2:])


def seconds_for(terminal: Terminal, key: str) -> float:
    """Press, and wait until the keys mean something else."""
    before = bottom(terminal.text())
    began = time.perf_counter()
    terminal.press(key)
    terminal.wait(f"{key} changed nothing", lambda text: bottom(text) != before)
    return time.perf_counter() - began


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--presses", type=int, default=60)
    parser.add_argument("--book", type=Path)
    args = parser.parse_args()
    took: list[float] = []
    with tempfile.TemporaryDirectory(dir=args.book) as folder:
        env = {f"FORGELOG_{name}": f"{folder}/{name}" for name in ("DEVICE", "CACHE", "BOOK")}
        program = ["-m", "tests.bench.floor_program"]
        with Terminal(program, width=100, height=30, env=env, whole_s=0) as terminal:
            terminal.wait_for("BACKSPACE")
            for _ in range(args.presses // 2):
                for key in ("enter", "backspace"):
                    time.sleep(0.6)
                    took.append(seconds_for(terminal, key))
            terminal.press("ctrl+c")
            terminal.wait_exit()
    took.sort()
    print(f"presses {len(took)}")
    print(f"p50 {statistics.median(took) * 1000:6.1f} ms")
    print(f"p99 {took[min(len(took) - 1, int(len(took) * 0.99))] * 1000:6.1f} ms")
    print(f"max {took[-1] * 1000:6.1f} ms")
    return 0


if __name__ == "__main__":
    sys.exit(main())
