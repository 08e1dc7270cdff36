"""forgelog make-demo: simulate the demo data again, from its seed."""

from __future__ import annotations

from forgelog.commands import CLEAN, PROBLEMS, Refused
from forgelog.commands.numbers import whole

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "--seed", type=whole, metavar="N", help="of all chance in it; else the one that is shipped"
    )
    parser.add_argument(
        "--out", metavar="FOLDER", help="where it is written; else demo_data of this checkout"
    )
    parser.add_argument(
        "--check",
        action="store_true",
        help="write nothing; say which files are not what the seed makes",
    )


def run(args: argparse.Namespace) -> int:
    """Write the demo data, or check it."""
    from forgelog.desk.demo import demo_differs, make_demo
    from forgelog.desk.errors import CannotDo

    try:
        if args.check:
            differing = demo_differs(args.out, seed=args.seed)
            for name in differing:
                print(f"not as the seed makes it: {name}")
            if not differing:
                print("The demo data is what its seed makes.")
            return PROBLEMS if differing else CLEAN
        changed = make_demo(args.out, seed=args.seed)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    counted = "1 file" if len(changed) == 1 else f"{len(changed)} files"
    print(f"The demo data was simulated: {counted} changed.")
    return CLEAN
