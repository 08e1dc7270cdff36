"""Five thousand hostile recipe files, each within a bound of time and all within one of memory.

    python -m tests.bench.hostile_recipes [--cases 5000] [--first 0]

Ends with 1 where a file took longer than a second, or any of its words came through.
"""

from __future__ import annotations

import argparse
import resource
import sys
import tempfile
import time
from pathlib import Path
from random import Random

from tests.desk.taking_hostile import take_hostile
from tests.properties.hostile import hostile_file

MOST_S = 1.0
MOST_BYTES = 512 * 1024 * 1024


def main() -> int:
    """Take them all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=5000)
    parser.add_argument("--first", type=int, default=0, help="seed of the first file")
    args = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    times: list[tuple[float, int]] = []
    taken = faults = 0
    for seed in range(args.first, args.first + args.cases):
        data = hostile_file(Random(seed))
        with tempfile.TemporaryDirectory() as folder:
            begun = time.process_time()
            try:
                taken += take_hostile(data, Path(folder))
            except Exception as fault:
                faults += 1
                print(f"seed {seed}: {type(fault).__name__}: {fault}"[:200])
            times.append((time.process_time() - begun, seed))
    times.sort()
    slow = [row for row in times if row[0] > MOST_S]
    print(f"{len(times)} files: {taken} taken, {len(times) - taken - faults} refused")
    print(f"faults: {faults}; slower than {MOST_S:g} s: {len(slow)}")
    for share in (0.5, 0.99, 1.0):
        took, seed = times[max(0, int(share * len(times)) - 1)]
        print(f"  {share:4.0%} within {1000 * took:.1f} ms (seed {seed})")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"most memory {peak:.0f} MB, bound {MOST_BYTES / 2**20:.0f} MB of address space")
    return 1 if faults or slow else 0


if __name__ == "__main__":
    sys.exit(main())
