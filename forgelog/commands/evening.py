"""forgelog evening: five minutes after the fire: what to put right, and what comes first tomorrow.

In a terminal it opens a page; elsewhere, or with `--plain`, it prints what the page would ask.
With `--json` one object is printed; its keys are stable and may be added to:

    session          id of the last session at the fire, "" where there is none
    day              when it began, in words
    heats[]          recipe, workpiece, step, words, choices[]: heats that nobody pressed
    lying[]          workpieces[], words, where ("" where nobody has said), can_be_told
    places[]         where things lie in this shop
    fuel             session, fire, kind, weighed, before_kg, told; or null
    bars[]           section, steel, words: what a rest may be left of
    offcuts[]        label, words: what lies on the rack
    label            what to write on the next offcut
    cuts[]           recipe, component, order, section, cut_mm, asked_mm, words,
                     told
    next[]           the first things of the next day
    sheets[]         what prints the sheets for them
    orders[]         ids of the orders that the first things belong to
"""

from __future__ import annotations

from collections.abc import Iterator

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up
from forgelog.commands.telling import on_terminal, print_json

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.evening_told import Evening

WIDTH = 80


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--plain", action="store_true", help="print lines, in a terminal too")
    parser.add_argument(
        "--fuel",
        metavar="MASS",
        help='write down what the last session burnt, like "12 kg"',
    )
    parser.add_argument(
        "--bottle",
        metavar="MASS",
        nargs=2,
        help='or what the bottle weighed before and after, like "21.4 kg" "18.8 kg"',
    )


def run(args: argparse.Namespace) -> int:
    """Open the page, print it, or write down the fuel."""
    from forgelog.desk.as_lit import clock_of
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.evening import evening
    from forgelog.desk.shop import open_shop
    from forgelog.units import UnitError

    try:
        shop = open_shop(args.book)
        clock = clock_of(shop)
        if args.fuel or args.bottle:
            from forgelog.desk.evening_deeds import told_in_words

            print(told_in_words(shop, args.fuel, args.bottle, clock=clock))
            return CLEAN
        read_up(shop)
        if not (args.json or args.plain) and on_terminal():
            from forgelog.screens.app import run as open_app
            from forgelog.screens.evening import EveningScreen

            page = EveningScreen(shop, clock=clock)
            return open_app(lambda app: page)
        view = evening(shop, clock=clock)
        if args.json:
            print_json(view)
            return CLEAN
        from forgelog.desk.review import look_back

        print("\n".join(as_text(view, look_back(shop, opening=True).review.first)))
    except (CannotDo, UnitError) as problem:
        raise Refused(str(problem)) from None
    return CLEAN


def as_text(view: Evening, first: str) -> Iterator[str]:
    """The evening as plain lines."""
    from textwrap import wrap

    yield from wrap(first, WIDTH)
    parts = (
        ("HEATS THAT NOBODY PRESSED", [f"{ask.words}?" for ask in view.heats]),
        ("WHERE IT LIES", [f"{one.words}: {one.where or 'not told'}" for one in view.lying]),
        ("FUEL", [f"{view.fuel.fire}: {view.fuel.told or 'not told'}"] if view.fuel else []),
        ("ON THE RACK", [one.words for one in view.offcuts]),
        ("CUT LENGTHS", [f"{one.words}: {one.told or 'not told'}" for one in view.cuts]),
        ("TOMORROW", [*view.next, *(f"on paper: {words}" for words in view.sheets)]),
    )
    for title, lines in parts:
        if lines:
            yield ""
            yield title
            yield from (
                row
                for line in lines
                for row in wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")
            )
