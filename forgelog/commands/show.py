"""forgelog show: print a recipe as a process sheet."""

from __future__ import annotations

import sys

from forgelog.commands import CLEAN, PROBLEMS, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("recipe", help="a recipe file, or the id of one in the book or shipped")
    parser.add_argument(
        "--size",
        action="append",
        default=[],
        metavar="NAME=LENGTH",
        help='a size of the order, like --size "post=120 mm"; as often as needed',
    )
    parser.add_argument("--units", choices=("mm", "inch"), default="mm", help="mm or inch")
    parser.add_argument("--dialect", choices=("uk", "us"), default="uk", help="uk or us words")


def run(args: argparse.Namespace) -> int:
    """Print the sheet; or what is wrong with the recipe, or with the sizes."""
    from forgelog.desk.recipes import CannotRead, find_recipe, read_recipe_file
    from forgelog.recipe.resolve import ResolveError, resolve
    from forgelog.recipe.sheet import Look, process_sheet
    from forgelog.units import UnitSystem

    try:
        read = read_recipe_file(find_recipe(args.recipe, args.book))
    except CannotRead as cannot:
        raise Refused(str(cannot)) from None
    if read.recipe is None:
        for problem in read.problems:
            print(problem.text)
        print("forgelog: the recipe has errors; put them right first", file=sys.stderr)
        return PROBLEMS
    try:
        resolved = resolve(read.recipe, sizes_of(args.size))
    except ResolveError as error:
        for problem in error.problems:
            print(problem.text)
        return PROBLEMS
    look = Look(units=UnitSystem(args.units), dialect=args.dialect)
    learnt = learnt_words(args.book, resolved.id) if args.book else {}
    print(process_sheet(resolved, read.recipe, look, learnt), end="")
    return CLEAN


def learnt_words(book: str, recipe: str) -> dict[tuple[str, str, str], str]:
    """What the named book has taught of this recipe's steps, by component, step and method."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.learnt import heats_in_words
    from forgelog.desk.learnt_memory import learnt_so_far
    from forgelog.desk.shop import open_shop

    try:
        return heats_in_words(learnt_so_far(open_shop(book)), recipe)
    except CannotDo:
        return {}  # A folder that holds recipes and no journal has taught nothing yet.


def sizes_of(words: list[str]) -> dict[str, float]:
    """The sizes that --size names: "post=120 mm" is {"post": 120.0}.

    Raises:
        Refused: one has no length that can be read.
    """
    from forgelog.recipe.plain import quoted
    from forgelog.units import UnitError, parse_length

    sizes: dict[str, float] = {}
    for word in words:
        name, sign, text = word.partition("=")
        if not sign:
            raise Refused(f"--size wants a name and a length, like post=120mm; not {quoted(word)}")
        try:
            sizes[name.strip()] = parse_length(text)
        except UnitError as error:
            raise Refused(f"--size {quoted(name)}: {error}") from None
    return sizes
