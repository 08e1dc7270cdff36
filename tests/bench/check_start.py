"""Time that `forgelog --version` and `forgelog check FILE` take, beside a Python that does nothing.

    python -m tests.bench.check_start [--runs 40] [FILE]

The three are started in turns, so that a busy machine weighs on all of them. Prints of each the
median of the ratios to its own neighbour, and the best of all runs with its ratio: on a quiet
machine the two agree, on a busy one the best is nearer to the truth.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

HINGES = Path(__file__).parents[2] / "recipes" / "gate-hinge-set.toml"


def milliseconds(command: Sequence[str]) -> float:
    """Start, wait for the end."""
    began = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return (time.perf_counter() - began) * 1000


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=40)
    parser.add_argument("file", nargs="?", type=Path, default=HINGES)
    args = parser.parse_args()
    program = shutil.which("forgelog", path=os.path.dirname(sys.executable))
    ours = [program] if program else [sys.executable, "-m", "forgelog"]
    commands = {
        "python -c pass": [sys.executable, "-c", "pass"],
        "import msgspec": [sys.executable, "-c", "import msgspec"],
        "forgelog --version": [*ours, "--version"],
        "forgelog check FILE": [*ours, "check", str(args.file)],
    }
    took: dict[str, list[float]] = {name: [] for name in commands}
    for run in range(args.runs + 1):
        for name, command in commands.items():
            one = milliseconds(command)
            if run:
                # The first round fills the machine's caches and is not counted.
                took[name].append(one)
    least = took["python -c pass"]
    for name, times in took.items():
        ratio = statistics.median(b / a for a, b in zip(least, times, strict=True))
        print(
            f"{name:<20} median {statistics.median(times):6.1f} ms, {ratio:5.2f} times;  "
            f"best of {args.runs} {min(times):6.1f} ms, {min(times) / min(least):5.2f} times"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
