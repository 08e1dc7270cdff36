"""Rules of the sizes that an order may change."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from forgelog.recipe.expressions import is_unit, worked_out
from forgelog.recipe.plain import quoted
from forgelog.recipe.problems import Fault
from forgelog.recipe.rules.found import Found, plain_mm, wrong
from forgelog.recipe.written import WrittenRecipe


def names_are_no_units(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A size called "in" or "m" would make every dimension doubtful."""
    for name in recipe.sizes:
        if is_unit(name):
            yield wrong(("sizes", name), f"has the name of a unit, {quoted(name)}", "rename it")


def are_plain_lengths(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A size stands by itself; it is no sum over other sizes."""
    for name, size in recipe.sizes.items():
        for key, text in (("default", size.default), ("least", size.least), ("most", size.most)):
            if not text:
                continue
            value = worked_out(text, {}, zero=True)
            if not isinstance(value, Fault):
                continue
            if not isinstance(worked_out(text, sizes_mm, signed=True), Fault):
                found = f"is {quoted(text)}, which is made of other sizes"
                expected = 'a size stands by itself: write a length, like "100 mm"'
                yield wrong(("sizes", name, key), found, expected)
            else:
                yield Found(path=("sizes", name, key), fault=value)


def defaults_lie_within(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """The default is from least to most, and least is no more than most."""
    for name, size in recipe.sizes.items():
        default, least, most = (plain_mm(t) for t in (size.default, size.least, size.most))
        if least > most:
            found = f"is {quoted(size.least or '')}, more than most = {quoted(size.most or '')}"
            yield wrong(("sizes", name, "least"), found, "make least no more than most")
        elif default < least:
            found = f"is {quoted(size.default)}, less than least = {quoted(size.least or '')}"
            yield wrong(("sizes", name, "default"), found, "choose one from least to most")
        elif default > most:
            found = f"is {quoted(size.default)}, more than most = {quoted(size.most or '')}"
            yield wrong(("sizes", name, "default"), found, "choose one from least to most")


def given_lie_within(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What an order asks for is from least to most."""
    for name, size in recipe.sizes.items():
        asked = sizes_mm.get(name, math.nan)
        if asked == plain_mm(size.default):
            continue
        for key, text in (("least", size.least), ("most", size.most)):
            limit = plain_mm(text)
            if (asked < limit) if key == "least" else (asked > limit):
                side = "less than" if key == "least" else "more than"
                found = f"is {asked:g} mm, {side} the {key}, {text}"
                yield wrong(("sizes", name), found, "choose one within the recipe's limits")


RULES = (names_are_no_units, are_plain_lengths, defaults_lie_within, given_lie_within)
