"""What a sum loads, and that none but `convert` loads the library of units."""

from __future__ import annotations

import subprocess
import sys

import pytest

from forgelog.desk.sums import SUMS, find_sum


def _loaded(code: str, names: tuple[str, ...]) -> set[str]:
    tail = f"; import sys; print(*[n for n in {names!r} if n in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code + tail], capture_output=True, text=True, check=True
    )
    return set(done.stdout.split("\n")[-2].split())


def test_a_thread_is_told_without_what_takes_long_to_load() -> None:
    code = "from forgelog.__main__ import main; main(['sums', 'thread', 'M12', '--json'])"
    heavy = ("msgspec", "argparse", "textual", "rich", "pint", "pathlib", "inspect", "dataclasses")
    assert _loaded(code, heavy) == set()


@pytest.mark.parametrize("name", [name for name in SUMS if name != "convert"])
def test_no_other_sum_loads_the_library_of_units(name: str) -> None:
    example = find_sum(name).examples[0]
    code = (
        "import shlex; from forgelog.__main__ import main; "
        f"main(['sums', {name!r}, *shlex.split({example!r})])"
    )
    assert _loaded(code, ("pint", "textual", "scipy", "ht", "fluids")) == set()
