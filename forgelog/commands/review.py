"""forgelog review: what was done at the fire, what it took, and what is to be put right.

With `--json` one object is printed. Its keys are stable; a key that ends in `_min`, `_s`, `_degc`
or `_share` is in that unit, `_heats` are counts, a day is ISO 8601 with the offset of the clock
that the smith saw. Keys may be added; none of these goes or changes its meaning:

    first            the one thing worth knowing, in sentences
    findings[]       what is worth knowing, that one first: kind, words, advice
    practice         true where all of it is practice
    shown_session    id of the session in `timeline`
    sessions[]       number, session, began, who, orders[], method, fire, presses, heats,
                     length_min, worked_min, ended, where
    timeline         session, began, began_local_s, length_min, worked_min, hand_min, bench_min,
                     fire_min, lit_min, idle_share; spans[]: workpiece, piece, slot, doing, step,
                     from_min, to_min, work_min; stood[]: why, from_min, to_min; or null
    recipes          names by id
    steps[]          recipe, component, component_name, step, do, method, planned_heats,
                     taken_heats[] (null where unknown), shared, corrected, spoilt;
                     next: heats, low_heats, high_heats, records, or null (the plan holds);
                     in_hand: steady_min, low_min, high_min, records, or null
    bench[]          recipe, component, component_name, step, do, planned_min, taken_min[];
                     next: steady_min, low_min, high_min, records, or null
    rests            kept, unsure, short, skipped, broken; faults[], doubts[] and each[] (every rest
                     of the pieces spoken of): recipe, workpiece, piece, session, step, do, until,
                     verdict, normalising, matters, open, hardened, scrapped, rested_min,
                     needed_min, low_min, high_min, section, start_degc, to_degc, medium, by_sum,
                     degc_at_end, broken_by, risk, advice
    pairs[]          order, title, pieces[], workpieces[], master; lines[]: step, do, measure
                     (heats, work in s, rest in s, gauge in mm), values[], shown[], unlike, differs
    remakes[]        recipe, workpiece, piece, step, do, why, remade_as, open, in_shown
    troubles[]       recipe, workpiece, piece, words
    unusual[]        recipe, workpiece, piece, step, do, method, taken_heats, usual_heats
    to_put_right[]   recipe, workpiece, step, words, choices[]
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import Progress
from forgelog.commands.telling import as_lines, print_json, wants_screen, ways_of_telling, width_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.review import ReviewView
    from forgelog.desk.shop import Shop


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "session", nargs="?", help="one session, by its number in the list or its id; else all"
    )
    parser.add_argument("--recipe", metavar="ID", help="only what was worked from this recipe")
    parser.add_argument(
        "--write",
        metavar="FILE",
        help="write the session's own page: a new file that ends in .md or .html",
    )
    ways_of_telling(parser)


def run(args: argparse.Namespace) -> int:
    """Open the review on a screen; print it where there is no terminal to show it on."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        if args.write:
            print(f"written: {_write(shop, args)}")
            return CLEAN
        if args.json:
            from forgelog.desk.review import review_of

            print_json(review_of(shop, args.session, args.recipe, report=Progress()))
            return CLEAN
        if wants_screen(args):
            from forgelog.desk.review import look_back
            from forgelog.screens.app import run as open_app
            from forgelog.screens.review import ReviewScreen

            scope = (args.session, args.recipe)
            opening = look_back(shop, *scope, opening=True, report=Progress())
            page = ReviewScreen(shop, *scope, told=opening)
            return open_app(lambda app: page)
        from forgelog.desk.review import review_view

        width = width_of(args.width)
        view = review_view(shop, args.session, args.recipe, width=width, report=Progress())
        print(as_text(view, width))
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    return CLEAN


def _write(shop: Shop, args: argparse.Namespace) -> str:
    """Write the page of a session into a file of its own; what lies there is left as it is."""
    from pathlib import Path

    from forgelog.desk.new_file import put_new
    from forgelog.recipe.plain import harmless, quoted
    from forgelog.sheets.making import Wanted, set_sheet

    path = Path(args.write)
    ending = path.suffix.casefold()
    if ending not in (".md", ".html"):
        raise Refused(f"{quoted(args.write)} must end in .md (Markdown) or .html (a page)")
    wanted = Wanted(kind="session", session=args.session or "", markdown=ending == ".md")
    put_new(path, set_sheet(shop, wanted).text)
    return harmless(str(path))


def as_text(view: ReviewView, width: int) -> str:
    """The review as plain lines: the one thing worth knowing, then page after page."""
    return as_lines([("PRACTICE. " if view.practice else "") + view.first], view.pages, width)
