"""Reads a recipe file: the typed recipe, or every problem that it has, by line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from forgelog.recipe.problems import Fault, Path, Problem, Severity
from forgelog.recipe.quick_shape import quickly_shaped
from forgelog.recipe.rules import check_rules
from forgelog.recipe.syntax import Parsed, decoded, parsed, rows_of
from forgelog.recipe.written import WrittenRecipe

MOST_PROBLEMS = 500
"""So many problems of one file are told one by one."""


def read_recipe(data: bytes, name: str) -> tuple[WrittenRecipe | None, tuple[Problem, ...]]:
    """Read a recipe from the bytes of its file. Never raises, whatever the bytes.

    Args:
        data: The file as it lies on the disk.
        name: The file's name, for the problems.

    Returns:
        The recipe, or None where it has an error; and all problems in the order of lines,
        warnings among them.
    """
    problems: list[Problem] = []
    rows: tuple[str, ...] = ()

    def report_line(line: int | None, fault: Fault, severity: Severity) -> None:
        problems.append(_problem(name, line, "", fault, severity, rows))

    text = decoded(data, report_line)
    if text is None:
        return None, tuple(problems)
    rows = rows_of(text)
    found = parsed(text, report_line)
    recipe = _checked(found, name, problems) if found is not None else None
    problems = sorted(dict.fromkeys(problems), key=lambda p: p.line or 0)
    if any(p.severity == "error" for p in problems):
        recipe = None
    return recipe, _not_endless(problems, name)


def _not_endless(problems: list[Problem], name: str) -> tuple[Problem, ...]:
    if len(problems) <= MOST_PROBLEMS:
        return tuple(problems)
    more = len(problems) - MOST_PROBLEMS
    severity: Severity = "warning"
    if any(p.severity == "error" for p in problems[MOST_PROBLEMS:]):
        severity = "error"
    rest = Problem(file=name, found=f"there are {more} more problems", severity=severity)
    return (*problems[:MOST_PROBLEMS], rest)


def _checked(found: Parsed, name: str, problems: list[Problem]) -> WrittenRecipe:
    def report(path: Path, fault: Fault, severity: Severity = "error") -> None:
        if not found.whole and fault.found.startswith("has no "):
            return
        problems.append(located(found, name, path, fault, severity))

    recipe = quickly_shaped(found.table)
    if recipe is None:
        return _shaped(found, report)
    if found.whole:
        for one in check_rules(recipe):
            report(one.path, one.fault, one.severity)
    return recipe


def _shaped(found: Parsed, report: Callable[..., None]) -> WrittenRecipe:
    """The recipe out of tables that are not as they should be, with all that can be said of it."""
    from forgelog.recipe.shape import shaped

    holders: set[Path] = set()
    """Whatever holds something of the wrong shape: it may miss that for this reason alone."""
    wrong: set[Path] = set()
    """What is of the wrong shape, or a list with an item that is."""

    def report_shape(path: Path, fault: Fault) -> None:
        holders.update(path[:end] for end in range(1, len(path)))
        wrong.update((path, path[:-1] if path and isinstance(path[-1], int) else path))
        report(path, fault)

    recipe = shaped(found.table, report_shape)
    if found.whole:
        for one in check_rules(recipe):
            if one.path not in wrong and not (one.missing and one.path in holders):
                report(one.path, one.fault, one.severity)
    return recipe


def located(
    found: Parsed, name: str, path: Path, fault: Fault, severity: Severity = "error"
) -> Problem:
    """The fault with its file, line and place in words."""
    from forgelog.recipe.places import place_in_words

    line = found.layout.line_of(path) if path else None
    where, key = place_in_words(path, found.table)
    return _problem(name, line, where, _with_key(fault, path, key), severity, found.rows)


def in_words(path: Path, fault: Fault, table: Mapping[str, Any], severity: Severity) -> Problem:
    """The fault with its place in words, of a recipe that comes from no file."""
    from forgelog.recipe.places import place_in_words

    where, key = place_in_words(path, table)
    return _problem("", None, where, _with_key(fault, path, key), severity, ())


def _with_key(fault: Fault, path: Path, key: str) -> Fault:
    found = f"{key or _noun(path)} {fault.found}"
    return Fault(found=found, expected=fault.expected, hint=fault.hint)


def _noun(path: Path) -> str:
    """What a path without a key of its own leads to: the step, the size, the recipe."""
    keys = [key for key in path if isinstance(key, str)]
    if not keys:
        return "the recipe"
    if keys[0] == "sizes":
        return "the size"
    if keys[0] == "evidence":
        return "it"
    return {"tools": "the tool", "jigs": "the jig", "needs": "it", "bought": "it"}.get(
        keys[-1], f"the {keys[-1]}"
    )


def _problem(
    name: str,
    line: int | None,
    where: str,
    fault: Fault,
    severity: Severity,
    rows: tuple[str, ...],
) -> Problem:
    source = rows[line - 1] if line is not None and 0 < line <= len(rows) else ""
    return Problem(
        file=name,
        line=line,
        where=where,
        found=fault.found,
        expected=fault.expected,
        hint=fault.hint,
        source_line=source,
        severity=severity,
    )
