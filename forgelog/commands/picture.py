"""forgelog picture: the real screen as an SVG picture, for a page that explains it."""

from __future__ import annotations

import re
from pathlib import Path

from forgelog.commands import CLEAN, Refused
from forgelog.commands.numbers import whole

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

SCRIPT = "enter 300 enter 05 enter 400 enter"
"""Keys that make a picture with something in it; two digits or more are seconds that pass."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("out", type=Path, help="file to write, such as floor.svg")
    parser.add_argument("--size", default="100x30", help="columns x rows (default 100x30)")
    parser.add_argument(
        "--recipe", action="append", default=[], help="id of a shipped recipe; may be repeated"
    )
    parser.add_argument("--count", type=whole, default=1, help="sets of each (default 1)")
    parser.add_argument(
        "--keys",
        default=SCRIPT,
        help=f'keys, and seconds of two digits or more that pass between (default "{SCRIPT}")',
    )


def run(args: argparse.Namespace) -> int:
    """Work a made-up order on a made-up clock, and draw what the screen shows then."""
    from tempfile import TemporaryDirectory

    from forgelog.desk.clock import FakeClock
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.posed import posed_session
    from forgelog.screens.floor import FloorScreen
    from forgelog.screens.picture import picture

    size = size_of(args.size)
    clock = FakeClock()
    with TemporaryDirectory() as folder:
        try:
            session = posed_session(Path(folder) / "book", args.recipe, args.count, clock)
        except CannotDo as problem:
            raise Refused(str(problem)) from None
        for word in args.keys.split():
            if word.replace(".", "", 1).isdecimal() and len(word) > 1:
                clock.go_on(float(word))
            else:
                session.press(word)
                clock.go_on(1.0)
        text = picture(lambda app: FloorScreen(session), size)
        session.close()
    args.out.write_text(text, encoding="utf-8")
    print(args.out)
    return CLEAN


def size_of(text: str) -> tuple[int, int]:
    """Columns and rows out of "100x30".

    Raises:
        Refused: it is no size, or a silly one.
    """
    found = re.fullmatch(r"(\d{1,3})\s*x\s*(\d{1,3})", text.strip())
    size = (int(found[1]), int(found[2])) if found else (0, 0)
    if not (20 <= size[0] <= 400 and 5 <= size[1] <= 200):
        raise Refused(f'"{text[:40]}" is no size of a window; write it like "100x30"')
    return size
