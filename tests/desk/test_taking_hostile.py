"""Files that were made to do harm: told in words, and nothing of them comes through."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.desk.taking_hostile import take_hostile
from tests.properties.hostile import KINDS, hostile_file

SEEDS = range(150)
"""`python -m tests.bench.hostile_recipes` takes five thousand, with bounds of time and memory."""


@pytest.mark.parametrize("kind", range(len(KINDS)))
def test_each_kind_of_hostile_file_is_taken_harmlessly_or_refused(
    kind: int, tmp_path: Path
) -> None:
    data = KINDS[kind](Random(kind))
    take_hostile(data if isinstance(data, bytes) else data.encode(), tmp_path)


def test_files_at_random_are_taken_harmlessly_or_refused(tmp_path: Path) -> None:
    taken = 0
    for seed in SEEDS:
        folder = tmp_path / str(seed)
        folder.mkdir()
        taken += take_hostile(hostile_file(Random(seed)), folder)
    assert 0 < taken < len(SEEDS)
