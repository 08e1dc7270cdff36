"""forgelog rack: what lies on the rack now.

    forgelog rack                                      bars and offcuts
    forgelog rack keep "12 mm square" "340 mm"         an offcut goes back, under a label
    forgelog rack used K3                              an offcut is gone

Whole bars stand in stock.toml, which forgelog never writes to; offcuts that are kept or used up
are written in the journal. With `--json` the rack is printed as a list; keys are stable and may
be added to: section (as it is written), long_mm, count, steel, label, where, offcut.
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused
from forgelog.commands.telling import print_json

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.shop import Shop


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--json", action="store_true", help="print a JSON list")
    deeds = parser.add_subparsers(dest="deed", metavar="DEED")
    keep = deeds.add_parser("keep", help="an offcut goes back on the rack")
    keep.add_argument("section", help='the bar, like "12 mm square"')
    keep.add_argument("long", help='how long the rest is, like "340 mm"')
    keep.add_argument("--steel", default="mild", help="the steel; mild where not said")
    keep.add_argument("--label", default="", help="what is written on it; else one is proposed")
    keep.add_argument("--where", default="", help="where it lies")
    used = deeds.add_parser("used", help="an offcut is gone")
    used.add_argument("label", help="what is written on it")


def run(args: argparse.Namespace) -> int:
    """Print the rack, or write down what came on it or went."""
    from forgelog.desk.as_lit import clock_of
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.rack import keep_in_words, rack_words, use_up
    from forgelog.desk.shop import open_shop
    from forgelog.trade.sections import SectionError
    from forgelog.units import UnitError

    try:
        shop = open_shop(args.book)
        if args.deed == "keep":
            print(
                keep_in_words(
                    shop,
                    args.section,
                    args.long,
                    steel=args.steel,
                    label=args.label,
                    where=args.where,
                    clock=clock_of(shop),
                )
            )
        elif args.deed == "used":
            use_up(shop, args.label, clock=clock_of(shop))
            print("used up")
        elif args.json:
            _print_json(shop)
        else:
            print("\n".join(rack_words(shop)) or "nothing is listed in stock.toml, and no offcut")
    except (CannotDo, SectionError, UnitError) as problem:
        raise Refused(str(problem)) from None
    return CLEAN


def _print_json(shop: Shop) -> None:
    import msgspec

    from forgelog.desk.rack import rack
    from forgelog.trade.sections import write_section

    rows = [
        {**msgspec.structs.asdict(bar), "section": write_section(bar.section)} for bar in rack(shop)
    ]
    print_json(rows)
