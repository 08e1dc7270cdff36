"""Past work for a review, of our own invention, pressed key by key and written to a book."""

from __future__ import annotations

from pathlib import Path

from forgelog.book.press_line import write_line
from forgelog.desk.clock import FakeClock
from forgelog.desk.shop import Shop as Book
from forgelog.desk.shop import open_shop
from forgelog.work.facts import (
    BenchBegun,
    DayEnded,
    FireLit,
    NewPiece,
    Paused,
    PutInFire,
    RestEnded,
    RestSkipped,
    RestStarted,
    Resumed,
    Scrapped,
    StepFinished,
)
from tests.learn.shop import HAMMER, LEFT, RIGHT, Shop

FIRST, SECOND, THIRD = (f"202510{day:02}T090000Z-anvil7k-aaa{day % 10}" for day in (9, 10, 11))
AGAIN = "o1/strap/4"


class PastWork(Shop):
    """A shop whose presses are written to a book."""

    def __init__(self, book: Path) -> None:
        super().__init__()
        self.book = book

    def day(self, session: str, *, after_s: float = 70_000.0, **header: object) -> None:
        """Begin another day at the fire."""
        self.begin(session, after_s=after_s, orders=("o1",), **header)
        self.press(0.0, FireLit(orders=("o1",)))

    def strap_drawn(self, piece: str, heats: int) -> None:
        """Draw a strap and let it rest as it should."""
        self.forge(piece, "draw", heats)
        self.rested(piece, 300.0, "ok")

    def rested(self, piece: str, rested_s: float, verdict: str) -> None:
        """Rest a strap to black, for so long."""
        self.rest(piece, "black")
        self.press(
            rested_s,
            RestEnded(workpiece=piece, step="black", rested_s=rested_s, verdict=verdict),
        )

    def eye_not_pressed(self, piece: str) -> None:
        """Roll an eye with no key pressed but the one at its end."""
        self.press(5.0, PutInFire(workpiece=piece))
        self.press(200.0, StepFinished(workpiece=piece, step="eye", heats_unknown=True))

    def normalised(self, step: str, verdict: str = "ok") -> None:
        """Give the hammer head a normalising cycle; "skipped" leaves it out."""
        if verdict == "skipped":
            self.press(
                5.0,
                RestSkipped(workpiece=HAMMER, step=step, skipping="matters", until="black"),
            )
            return
        self.press(5.0, PutInFire(workpiece=HAMMER))
        self.press(
            600.0,
            RestStarted(
                workpiece=HAMMER,
                step=step,
                until="black",
                start_degc=860.0,
                needed_s=280.0,
                skipping="matters",
            ),
        )
        self.press(
            400.0,
            RestEnded(
                workpiece=HAMMER,
                step=step,
                rested_s=400.0,
                verdict=verdict,
                counts=verdict == "ok",
            ),
        )

    def spoilt(self, piece: str, why: str) -> None:
        """Scrap a right strap and begin it anew."""
        new = NewPiece(
            id=AGAIN,
            component="strap",
            serial=4,
            mark="right",
            slot="strap right 1",
            remade_from=piece,
        )
        self.press(60.0, Scrapped(workpiece=piece, why=why, remake=new))

    def write(self) -> Book:
        """Write all of it, and open the book."""
        for session, presses in self.presses.items():
            file = self.book / "journal" / session[:4] / f"{session}.jsonl"
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(b"".join(map(write_line, presses)))
        return open_shop(self.book)

    @property
    def evening(self) -> FakeClock:
        """A clock that stands some hours after the last press."""
        return FakeClock(wall=self.now_s + 4 * 3600.0, boot="evening")


def two_days(book: Path) -> PastWork:
    """Two days on one order: a short rest, a pause, a skipped cycle, a strap spoilt and remade."""
    past = PastWork(book)
    past.open_order(FIRST, orders=("o1",))
    past.forge(LEFT, "draw", 5)
    past.rest(LEFT, "black")
    past.forge(RIGHT, "draw", 4)
    past.press(1.0, RestEnded(workpiece=LEFT, step="black", rested_s=60.0, verdict="short"))
    past.rest(RIGHT, "black")
    past.press(20.0, Paused())
    past.press(1800.0, Resumed())
    past.press(5.0, RestEnded(workpiece=RIGHT, step="black", rested_s=1825.0, verdict="ok"))
    past.forge(LEFT, "eye", 3)
    past.eye_not_pressed(RIGHT)
    past.press(5.0, BenchBegun(workpiece=LEFT, step="drill"))
    past.press(800.0, StepFinished(workpiece=LEFT, step="drill"))
    past.press(60.0, DayEnded(where="box 2"))
    past.day(SECOND)
    past.forge(HAMMER, "drift", 7)
    past.normalised("normalise-1")
    past.normalised("normalise-2", "skipped")
    past.press(5.0, BenchBegun(workpiece=RIGHT, step="drill"))
    past.press(500.0, StepFinished(workpiece=RIGHT, step="drill"))
    past.spoilt(RIGHT, "hole ran off")
    past.forge(AGAIN, "draw", 9)
    past.press(100.0, DayEnded())
    return past
