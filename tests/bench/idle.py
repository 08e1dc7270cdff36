"""Processor time and memory of a floor that nobody touches, its clocks running.

    python -m tests.bench.idle [--seconds 30] [-- how to start it]

Linux only: reads /proc.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

from tests.terminal.driver import Terminal


def used_s(pid: int) -> float:
    """Processor time of a process so far, seconds."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def resident_mb(pid: int) -> float:
    """Memory in use, MB."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1000
    raise ValueError("no VmRSS")


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=30.0)
    parser.add_argument("rest", nargs="*")
    args = parser.parse_args()
    ours = args.rest or ["-m", "tests.bench.floor_program"]
    with tempfile.TemporaryDirectory() as folder:
        env = {f"FORGELOG_{name}": f"{folder}/{name}" for name in ("DEVICE", "CACHE", "BOOK")}
        with Terminal(ours, width=100, height=30, env=env) as terminal:
            terminal.wait_for("BACKSPACE")
            # Bench work begins: its clock shows every second.
            terminal.press("enter")
            time.sleep(3)
            pid = terminal.process.pid
            paints, cpu, began = terminal.paints, used_s(pid), time.perf_counter()
            time.sleep(args.seconds)
            took = time.perf_counter() - began
            cpu = used_s(pid) - cpu
            print(f"processor  {100 * cpu / took:5.2f} % of one core, over {took:.0f} s")
            print(f"memory     {resident_mb(pid):5.0f} MB")
            print(f"paints     {(terminal.paints - paints) / took:5.2f} a second")
            terminal.press("ctrl+c")
            terminal.wait_exit()
    return 0


if __name__ == "__main__":
    sys.exit(main())
