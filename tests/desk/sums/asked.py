"""Asks a sum as the shell does."""

from __future__ import annotations

import shlex
from typing import Any

from forgelog.desk.sums import find_sum
from forgelog.desk.sums.answer import Answer
from forgelog.desk.sums.asking import ask, read_words


def answer(line: str) -> Answer:
    """The answer to a line such as 'bar "12 mm square" --length "2 m"'."""
    name, *words = shlex.split(line)
    one = find_sum(name)
    return ask(one, read_words(one, words))


def figures(line: str) -> dict[str, Any]:
    """The same as a machine gets it."""
    return answer(line).table
