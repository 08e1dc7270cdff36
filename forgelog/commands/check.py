"""forgelog check: look over recipes, or a whole book, and say all that is wrong.

With paths it checks recipes; without one, the book that --book names, or the usual one.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from types import SimpleNamespace

from forgelog.commands import CLEAN, NOT_DONE, PROBLEMS

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.recipes import CannotRead


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "path",
        nargs="*",
        help="a recipe, or a folder with recipes, here or in the book; none checks the whole book",
    )
    parser.add_argument("--strict", action="store_true", help="a warning is a failure as well")


def plain_arguments(words: list[str], book: str | None) -> SimpleNamespace | None:
    """What `arguments` makes of plain words, without the weight of argparse; else None."""
    if words == ["--book"]:
        return SimpleNamespace(book=book, path=[], strict=False)
    paths = [word for word in words if word != "--strict"]
    if any(path.startswith("-") for path in paths):
        return None
    return SimpleNamespace(book=book, path=paths, strict=len(paths) < len(words))


def run(args: argparse.Namespace | SimpleNamespace) -> int:
    """Print every problem of every recipe, and a line that counts them."""
    if not args.path:
        return _check_book(args.book, strict=args.strict)
    from forgelog.desk.recipes import CannotRead, read_recipe_at

    recipes = errors = warnings = unread = 0
    for file in _files(args.path, args.book):
        try:
            if isinstance(file, CannotRead):
                raise file
            _, problems = read_recipe_at(file)
        except CannotRead as cannot:
            unread += 1
            print(f"forgelog: {cannot}", file=sys.stderr)
            continue
        recipes += 1
        for problem in problems:
            print(problem.text)
        errors += sum(p.severity == "error" for p in problems)
        warnings += sum(p.severity == "warning" for p in problems)
    if recipes:
        print(summary(recipes, errors, warnings))
    if unread:
        return NOT_DONE
    return PROBLEMS if errors or (args.strict and warnings) else CLEAN


def _check_book(book: str | None, *, strict: bool) -> int:
    """Print what is wrong with a book, and what to do about each thing."""
    from forgelog.commands import Refused
    from forgelog.commands.asking import show
    from forgelog.desk.check_book import CLOCK, look_over
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop

    try:
        looked = look_over(open_shop(book))
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    for found in looked.findings:
        show([found.words, f"    {found.do}"])
    counts = (
        _count(looked.sessions, "session"),
        _count(looked.presses, "press", "presses"),
        _count(looked.orders, "order"),
        _count(len(looked.devices), "device"),
    )
    print(f"{', '.join(counts)}: {_count(len(looked.findings), 'thing')} to see to")
    wrong = [found for found in looked.findings if strict or found.kind != CLOCK]
    return PROBLEMS if wrong else CLEAN


def _files(paths: list[str], book: str | None) -> Iterator[str | CannotRead]:
    from forgelog.desk.recipes import CannotRead, here_or_in_book, recipe_files

    for path in paths:
        try:
            yield from recipe_files(here_or_in_book(path, book))
        except CannotRead as problem:
            yield problem


def summary(recipes: int, errors: int, warnings: int) -> str:
    """The last line: "2 recipes, 1 error, no warnings"."""
    return ", ".join(
        (
            _count(recipes, "recipe"),
            _count(errors, "error"),
            _count(warnings, "warning"),
        )
    )


def _count(number: int, word: str, many: str = "") -> str:
    return f"{number or 'no'} {word if number == 1 else many or word + 's'}"
