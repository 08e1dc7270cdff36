"""forgelog learn: what the journal teaches of each step, and what it gives reason to change.

With `--json` one object is printed. Its keys are stable; a key that ends in `_min` is minutes,
`_heats` are counts, a day is YYYY-MM-DD. null says: not enough yet. Keys may be added; none of
these goes or changes its meaning:

    practice            true where all of it is practice
    first_piece_times   times the heats of a run's fifth piece that its first one takes, or null
    records             records of heats, on all steps
    recipes[]           recipe, name; components[]: component, name;
        steps[]         step, do, method ("" at the bench), planned_heats, own_heats, planned_min,
                        heats: heats, low_heats, high_heats, first_heats, records, or null;
                        in_hand, in_fire, at_bench: steady_min, low_min, high_min, first_min,
                        records, or null;
                        odd[]: workpiece, piece, day, taken_heats, usual_heats, why
        rests[]         step, do, kept, unsure, short, skipped, broken
    suggestions[]       id, what (heats, cut, rest, corrected, first), recipe, component, step,
                        method, words, evidence, heats, planned, toml
    answered[]          suggestion, accepted, words
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up
from forgelog.commands.telling import as_lines, on_terminal, print_json, width_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.learn_told import Learnings

NARROWEST = 60


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("recipe", nargs="?", help="only this recipe, by id")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plain", action="store_true", help="print lines, in a terminal too")
    deeds = parser.add_mutually_exclusive_group()
    deeds.add_argument(
        "--accept", metavar="SUGGESTION", help="take one up, by its id or its number in the list"
    )
    deeds.add_argument(
        "--decline", metavar="SUGGESTION", help="never suggest it again, by its id or number"
    )
    deeds.add_argument(
        "--again", metavar="SUGGESTION", help="take the answer to one back, by its id"
    )


def run(args: argparse.Namespace) -> int:
    """Open the page on a screen; print it where there is no terminal to show it on."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.learnings import learnings_of
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        read_up(shop)
        if args.accept or args.decline or args.again:
            print(_answer(args))
            return CLEAN
        if args.json:
            print_json(learnings_of(shop, args.recipe))
            return CLEAN
        if not args.plain and on_terminal():
            from forgelog.screens.app import run as open_app
            from forgelog.screens.learn import LearnScreen

            page = LearnScreen(shop, args.recipe)
            return open_app(lambda app: page)
        print(as_text(learnings_of(shop, args.recipe), width_of(least=NARROWEST)))
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    return CLEAN


def _answer(args: argparse.Namespace) -> str:
    from forgelog.desk.learnings import learnings_of
    from forgelog.desk.shop import open_shop
    from forgelog.desk.suggestions import ask_again, decline, suggestion_named, take_up

    shop = open_shop(args.book)
    if args.again:
        ask_again(shop, args.again)
        return f"the answer to {args.again} is taken back; the recipe's plan holds again"
    suggestion = suggestion_named(learnings_of(shop, args.recipe), args.accept or args.decline)
    if args.decline:
        decline(shop, suggestion)
        return f"not suggested again; `forgelog learn --again {suggestion.id}` takes that back"
    take_up(shop, suggestion)
    if suggestion.heats is None:
        return f"noted; `forgelog learn --again {suggestion.id}` takes that back"
    return (
        f"{suggestion.heats} heats are planned from now on, your own figure; "
        f"`forgelog learn --again {suggestion.id}` takes that back"
    )


def as_text(learnings: Learnings, width: int) -> str:
    """All of it as plain lines."""
    from forgelog.desk.learn_pages import first_words, write_learn_pages

    practice = "PRACTICE. " if learnings.practice else ""
    pages = write_learn_pages(learnings, width)
    return as_lines([practice + first_words(learnings)], pages, width)
