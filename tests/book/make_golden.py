"""Writes the golden journal of this version: `python -m tests.book.make_golden` from the checkout.

Run it once when a version is released, under a new name; never again over an old one. Orders,
pieces and times in it are made up.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path
from typing import get_args, get_type_hints

import msgspec

from forgelog import __version__
from forgelog.book.press_line import write_line
from forgelog.book.sessions import journal_files, read_sessions
from forgelog.work.facts import AnyFact, Press, SessionBegan
from forgelog.work.fold import fold
from forgelog.work.moments import Stamp
from forgelog.work.state import State

GOLDEN = Path(__file__).parent / "golden"


def every_fact() -> bytes:
    """A session that holds one fact of each kind, with every field filled."""
    began = SessionBegan(
        version=__version__,
        session="20260130T081500Z-anvil7k-gold",
        device="anvil7k",
        who="A. Smith",
        practice=0.0,
        continues="20260129T081500Z-anvil7k-gone",
        orders=("anvil7k-3f9q",),
        seen={"20260129T081500Z-anvil7k-gone": 12},
    )
    lines = [write_line(Press(seq=0, at=stamp(0), facts=(began,)))]
    kinds = [kind for kind in get_args(AnyFact) if kind is not SessionBegan]
    for seq, kind in enumerate(kinds, start=1):
        lines.append(write_line(Press(seq=seq, at=stamp(seq), facts=(filled(kind),))))
    return b"".join(lines)


def stamp(seq: int) -> Stamp:
    """A reading of all clocks, every half minute."""
    return Stamp(
        wall=1769760900.0 + 30.0 * seq,
        offset=60,
        steady=5000.0 + 30.0 * seq,
        awake=4000.0 + 30.0 * seq,
        boot="0badcafe",
        sleeps=seq % 2 == 0,
    )


def filled(kind: type[msgspec.Struct]) -> AnyFact:
    """A fact of a kind with something in every field."""
    return _made(kind)  # type: ignore[no-any-return]


def _made(kind: object) -> object:
    for plain, value in (
        (str, 'words: „ä“ ½ \\ " \n end'),
        (bool, True),
        (int, 3),
        (float, 12.5),
    ):
        if kind is plain:
            return value
    arguments = get_args(kind)
    origin = getattr(kind, "__origin__", None)
    if origin is dict:
        return {"post": _made(arguments[1])}
    if origin is tuple:
        return (_made(arguments[0]),)
    if arguments:
        return _made(next(a for a in arguments if a is not type(None)))
    assert isinstance(kind, type)
    assert issubclass(kind, msgspec.Struct)
    hints = get_type_hints(kind)
    return kind(**{name: _made(hints[name]) for name in kind.__struct_fields__})


def worked_day(folder: Path) -> list[bytes]:
    """The journal of a made-up day: an order, a floor, a cut and a floor that goes on."""
    from forgelog.book.new_book import make_book
    from forgelog.desk.clock import FakeClock
    from forgelog.desk.orders import take_order
    from forgelog.desk.session import resume, start
    from forgelog.desk.shop import open_shop
    from tests.desk.conftest import PIN
    from tests.desk.working import work

    os.environ["FORGELOG_DEVICE"] = str(folder / "device")
    os.environ["FORGELOG_CACHE"] = str(folder / "cache")
    make_book(folder / "book")
    (folder / "book" / "recipes" / "test-pin.toml").write_text(PIN)
    shop = open_shop(folder / "book")
    clock = FakeClock(offset=60)
    sizes_mm = {"drop": 70.0}
    order = take_order(shop, "test-pin", label="gold", sizes_mm=sizes_mm, count=2, clock=clock)
    clock.go_on(600.0)
    session = start(shop.again(), [order.id], clock=clock)
    work(session, clock, 30)
    session.close()
    clock.start_again(900.0)
    again = resume(shop.again(), clock=clock)
    work(again, clock, 60)
    again.close()
    return [path.read_bytes() for path in journal_files(shop.book)]


def summary(state: State) -> dict[str, object]:
    """What a fold must give for ever: places, steps, heats and rests of each piece."""
    return {
        piece.id: {
            "place": piece.place,
            "slot": piece.slot,
            "step": piece.step,
            "heats": [[r.step, r.heats, round(r.work_s, 3)] for r in piece.done],
            "rests": [[r.step, r.verdict, r.rested_s] for r in piece.rests],
        }
        for piece in state.pieces.values()
    }


def main() -> int:
    """Write the files; refuse to write over those of a version."""
    name = f"forgelog-{__version__}"
    if (GOLDEN / f"{name}-facts.jsonl").exists() and "--again" not in sys.argv:
        print(f"{name} is there already; a golden journal is never rewritten once it is released")
        return 1
    GOLDEN.mkdir(exist_ok=True)
    for old in GOLDEN.glob(f"{name}-*"):
        old.unlink()
    (GOLDEN / f"{name}-facts.jsonl").write_bytes(every_fact())
    with tempfile.TemporaryDirectory() as folder:
        for number, data in enumerate(worked_day(Path(folder)), start=1):
            (GOLDEN / f"{name}-day-{number}.jsonl").write_bytes(data)
    state = fold(read_sessions(sorted(GOLDEN.glob(f"{name}-day-*.jsonl"))))
    text = msgspec.json.format(msgspec.json.encode(summary(state)), indent=1)
    (GOLDEN / f"{name}-day.json").write_bytes(text + b"\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
