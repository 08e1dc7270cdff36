"""forgelog plan: the day's run as a timeline, the tools by when, and when each order will be done.

With `--json` one object is printed. Its keys are stable; a key that ends in `_min`, `_s` or
`_share` is in that unit, a day is YYYY-MM-DD, a time of day HH:MM, both together ISO 8601 as the
clock on the wall shows them. Keys may be added; none of these goes or changes its meaning:

    day, begins, until, running, method, fire, pieces, heats, heats_today, hands_min, work_min,
    idle_share, trials, draft
    timeline         as in `forgelog review --json`; or null
    finished[]       workpiece, piece, at
    tools[]          id, name, setting, state, by, missing
    jigs[]           name, settings[], setups, minutes
    orders[]         order, name, promised, planned, low, middle, high, late, open
    others[]         method, words, work_min, hands_min, saved_min, done,
                     orders[]: order, name, done
    held_back[]      order, name, pieces[], why: a tool is not ready
    left_out[]       open orders that cannot be worked on, with the reason
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up
from forgelog.commands.telling import as_lines, print_json, wants_screen, ways_of_telling, width_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--day", default="", metavar="DATE", help="YYYY-MM-DD; else today")
    parser.add_argument(
        "--until", default="", metavar="HH:MM", help="when work ends; else after eight hours"
    )
    ways_of_telling(parser)


def run(args: argparse.Namespace) -> int:
    """Open the plan on a screen; print it where there is no terminal to show it on."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop

    try:
        shop = open_shop(args.book)
        read_up(shop)
        if wants_screen(args):
            from forgelog.screens.app import run as open_app
            from forgelog.screens.plan import PlanScreen

            page = PlanScreen(shop, args.day, args.until)
            return open_app(lambda app: page)
        from forgelog.desk.plan import plan_of

        told = plan_of(shop, args.day, args.until)
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    if args.json:
        print_json(told)
        return CLEAN
    from forgelog.desk.plan_pages import first_words, write_plan

    width = width_of(args.width)
    print(as_lines([first_words(told)], write_plan(told, width), width))
    return CLEAN
