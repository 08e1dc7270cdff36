"""forgelog trends: how heats, minutes, fire and hands have gone over the weeks.

In a terminal it opens a page; elsewhere, or with `--plain`, it prints. With `--json` one object is
printed; its keys are stable and may be added to. A range is middle, low, high, records:

    practice     true where all of it is practice
    curves[]     recipe, component, component_name, step, do, method, planned_heats, taken_heats[],
                 fitted_heats[], low_heats[], high_heats[] (empty of fewer than four pieces),
                 doubling (a range: what heats are multiplied by when pieces double) or null, sure
    hours[]      hour, heat_s (a range), usual_share (a range)
    sessions[]   session, began, in_fire, idle_share, heats
    causes[]     why, times, remade, steps[]
    methods[]    component_name, do, hand_heats, power_heats, hand_s, power_s, times (a range)
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.numbers import whole
from forgelog.commands.progress import read_up
from forgelog.commands.telling import as_lines, print_json, wants_screen

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

WIDTH, WIDEST = 80, 120


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--recipe", metavar="ID", help="only what was worked from this recipe")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plain", action="store_true", help="print lines, in a terminal too")
    parser.add_argument("--width", type=whole, metavar="COLUMNS", help="of the plain lines")


def run(args: argparse.Namespace) -> int:
    """Open the trends on a screen, or print them."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop
    from forgelog.desk.trends import trends_of

    try:
        shop = open_shop(args.book)
        read_up(shop)
        if wants_screen(args):
            from forgelog.screens.app import run as open_app
            from forgelog.screens.trends import TrendsScreen

            page = TrendsScreen(shop, args.recipe)
            return open_app(lambda app: page)
        told = trends_of(shop, args.recipe)
    except CannotDo as cannot:
        raise Refused(str(cannot)) from None
    if args.json:
        print_json(told)
        return CLEAN
    from forgelog.desk.trend_pages import first_words, write_trends

    width = max(WIDTH, min(WIDEST, args.width or WIDTH))
    print(as_lines([first_words(told)], write_trends(told, width), width))
    return CLEAN
