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

import sys

from forgelog.commands import CLEAN, Refused
from forgelog.commands.numbers import whole
from forgelog.commands.progress import Progress

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.review import ReviewView
    from forgelog.desk.shop import Shop

NARROWEST, WIDEST = 80, 120
WITHOUT_TERMINAL = 80


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
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plain", action="store_true", help="print lines, in a terminal too")
    parser.add_argument(
        "--width", type=whole, metavar="COLUMNS", help="of the plain lines; else the terminal's"
    )


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
            import msgspec

            from forgelog.desk.review import review_of

            told = msgspec.json.encode(
                review_of(shop, args.session, args.recipe, report=Progress())
            )
            print(msgspec.json.format(told, indent=2).decode())
            return CLEAN
        if not args.plain and args.width is None and _on_terminal():
            from forgelog.desk.indexed import caught_up
            from forgelog.screens.app import run as open_app
            from forgelog.screens.review import ReviewScreen

            caught_up(shop, Progress())
            page = ReviewScreen(shop, args.session, args.recipe)
            return open_app(lambda app: page)
        from forgelog.desk.review import review_view

        width = _width(args.width)
        view = review_view(shop, args.session, args.recipe, width=width, report=Progress())
        print(as_text(view, width))
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    return CLEAN


def _write(shop: Shop, args: argparse.Namespace) -> str:
    """Write the page of a session into a file of its own; what lies there is left as it is."""
    from pathlib import Path

    from forgelog.desk.sheet_file import put_sheet
    from forgelog.recipe.plain import harmless, quoted
    from forgelog.sheets.making import Wanted, set_sheet

    path = Path(args.write)
    ending = path.suffix.casefold()
    if ending not in (".md", ".html"):
        raise Refused(f"{quoted(args.write)} must end in .md (Markdown) or .html (a page)")
    wanted = Wanted(kind="session", session=args.session or "", markdown=ending == ".md")
    put_sheet(path, set_sheet(shop, wanted).text)
    return harmless(str(path))


def _on_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def as_text(view: ReviewView, width: int) -> str:
    """The review as plain lines: the one thing worth knowing, then page after page."""
    from textwrap import fill

    parts = [fill(("PRACTICE. " if view.practice else "") + view.first, width)]
    parts += ["\n".join((page.title, *page.lines)) for page in view.pages]
    return "\n\n".join(parts)


def _width(told: int | None) -> int:
    if told is None:
        if not sys.stdout.isatty():
            return WITHOUT_TERMINAL
        from shutil import get_terminal_size

        told = get_terminal_size().columns
    return max(NARROWEST, min(WIDEST, told))
