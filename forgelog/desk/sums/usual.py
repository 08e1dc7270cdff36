"""What a screen steps through, because it is what lies on the rack."""

from __future__ import annotations

from forgelog.desk.sums.asking import Field

BARS = (
    *("12 mm square", "10 mm square", "16 mm square", "20 mm square", "25 mm square"),
    *("8 mm round", "10 mm round", "12 mm round", "16 mm round", "20 mm round"),
    *("20 x 6 mm flat", "25 x 8 mm flat", "25 x 12 mm flat", "30 x 8 mm flat", "40 x 8 mm flat"),
    *("50 x 10 mm flat", "3 mm sheet"),
    *("1/2 in square", "5/8 in square", "3/4 in square", "1/2 in round", "1 x 1/4 in flat"),
)
LENGTHS = (
    *("100 mm", "150 mm", "200 mm", "300 mm", "400 mm", "500 mm", "600 mm", "1 m", "2 m", "3 m"),
    *("6 m", "20 mm", "30 mm", "40 mm", "50 mm", "60 mm", "80 mm"),
)
SHORT = ("10 mm", "12 mm", "16 mm", "20 mm", "25 mm", "30 mm", "40 mm", "50 mm", "60 mm", "80 mm")
THREADS = (
    *("M12", "M10", "M8", "M6", "M16", "M20", "M24", "M5", "M4", "M14", "M18", "M12 x 1.25"),
    *("1/2 UNC", "3/8 UNC", "1/4 UNC", "5/8 UNC", "3/4 UNC", "1/2 UNF", "1/2 BSW", "3/8 BSW"),
)
HOT = ("1150 degC", "1100 degC", "1050 degC", "1000 degC", "950 degC", "900 degC", "850 degC")
COOL = ("480 degC", "45 degC", "850 degC", "540 degC", "700 degC", "200 degC", "100 degC")
STRENGTHS = ("360 MPa", "410 MPa", "470 MPa", "600 MPa", "800 MPa")


def section(name: str = "section", says: str = "the bar", *, bare: bool = True) -> Field:
    """A bar."""
    return Field(name=name, says=says, kind="section", needed=True, bare=bare, usual=BARS)


def thread_size(says: str = "the thread") -> Field:
    """A thread."""
    return Field(name="size", says=says, kind="thread", needed=True, bare=True, usual=THREADS)
