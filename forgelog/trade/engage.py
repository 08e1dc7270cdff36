"""How much thread must engage, and what gives way first.

Sums for comparing sizes, not a proof: they say nothing of bending, wear, cracks or the hand that
cut the thread, and they do not say that a part holds a load.

Source: FED-STD-H28/2B appendix B, and Machinery's Handbook, strength of bolt threads; shear
strength is taken as half the tensile strength.
"""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import math
from typing import NamedTuple

from forgelog.trade.errors import SumError, positive
from forgelog.trade.limits import limits
from forgelog.trade.threads import Thread


class Joint(NamedTuple):
    """What a thread in tension would give way at, N, by the sum."""

    breaks_n: float
    """The bolt across its stress area."""
    bolt_strips_n: float
    """The thread of the bolt."""
    nut_strips_n: float
    """The thread of the nut."""

    @property
    def first(self) -> str:
        """What gives way first: "the bolt breaks", "the bolt strips" or "the nut strips"."""
        ways = {
            "the bolt breaks": self.breaks_n,
            "the bolt strips": self.bolt_strips_n,
            "the nut strips": self.nut_strips_n,
        }
        return min(ways, key=lambda way: ways[way])


def shear_mm2_per_mm(thread: Thread, oversize_mm: float = 0.0) -> tuple[float, float]:
    """Shear areas of the threads of bolt and nut for each mm that is engaged, mm2/mm.

    Args:
        thread: Size and pitch.
        oversize_mm: By how much the nut is tapped larger, mm, 0 or more.

    Raises:
        SumError: so much oversize that next to nothing of the thread engages.

    Source:
        FED-STD-H28/2B appendix B, at the limits of the usual classes.
    """
    edge = limits(thread)
    slope = math.tan(math.radians(27.5 if thread.series == "BSW" else 30.0))
    pitch = thread.pitch_mm
    inside = edge.nut_minor_max_mm + oversize_mm
    bolt = inside * (pitch / 2 + slope * (edge.bolt_pitch_min_mm - inside))
    nut = edge.bolt_major_min_mm * (
        pitch / 2 + slope * (edge.bolt_major_min_mm - edge.nut_pitch_max_mm - oversize_mm)
    )
    if bolt <= 0 or nut <= 0:
        raise SumError(f"so loose a nut has next to no thread on {thread.name}")
    return math.pi / pitch * bolt, math.pi / pitch * nut


def engagement_mm(
    thread: Thread, bolt_uts_mpa: float, nut_uts_mpa: float, oversize_mm: float = 0.0
) -> float:
    """Shortest engagement at which the bolt breaks before a thread strips.

    A nut that is lower than this lets go one day, and without a warning.

    Args:
        thread: Size and pitch.
        bolt_uts_mpa: Tensile strength of the threaded tenon, MPa, > 0.
        nut_uts_mpa: Tensile strength of the nut, MPa, > 0.
        oversize_mm: By how much the nut is tapped larger, mm; of a galvanised bolt.

    Returns:
        Length along the axis, mm, of full thread, without the chamfered first one.

    Raises:
        SumError: a strength is not above 0.
    """
    bolt = positive("strength of the bolt", bolt_uts_mpa, "MPa")
    nut = positive("strength of the nut", nut_uts_mpa, "MPa")
    bolt_area, nut_area = shear_mm2_per_mm(thread, oversize_mm)
    least = 2 * thread.stress_area_mm2 / bolt_area
    return least * max(1.0, bolt_area * bolt / (nut_area * nut))


def joint(thread: Thread, engaged_mm: float, bolt_uts_mpa: float, nut_uts_mpa: float) -> Joint:
    """What gives way first at an engagement, by the sum.

    Args:
        thread: Size and pitch.
        engaged_mm: Full thread that is engaged, mm, > 0.
        bolt_uts_mpa: Tensile strength of the bolt, MPa, > 0.
        nut_uts_mpa: Tensile strength of the nut, MPa, > 0.

    Raises:
        SumError: a value is not above 0.
    """
    engaged = positive("engagement", engaged_mm, "mm")
    bolt = positive("strength of the bolt", bolt_uts_mpa, "MPa")
    nut = positive("strength of the nut", nut_uts_mpa, "MPa")
    bolt_area, nut_area = shear_mm2_per_mm(thread)
    return Joint(
        breaks_n=thread.stress_area_mm2 * bolt,
        bolt_strips_n=bolt_area * engaged * bolt / 2,
        nut_strips_n=nut_area * engaged * nut / 2,
    )


_FULL = {"iso": 1.25 * math.sqrt(3) / 2, "old": 1.5 * math.sqrt(3) / 2}
"""What 100 % of thread is, in pitches off the diameter: 5H/8 or, in older books, 3H/4 a side."""


def thread_percent(thread: Thread, drill_mm: float, definition: str = "iso") -> float:
    """How much of a full thread a drilled hole leaves, per cent.

    Args:
        thread: Size and pitch.
        drill_mm: Hole before the tap, mm.
        definition: "iso" (100 % is 1.0825 P) or "old" (1.299 P): one hole in 1/4-20 is 90 % by
            the one and 75 % by the other, so always say which.

    Raises:
        SumError: no such definition.
    """
    full = _full(definition)
    return 100 * (thread.major_mm - drill_mm) / (full * thread.pitch_mm)


def drill_for_percent_mm(thread: Thread, percent: float, definition: str = "iso") -> float:
    """The drill that leaves so much of a full thread, mm.

    Raises:
        SumError: no such definition.
    """
    return thread.major_mm - percent / 100 * _full(definition) * thread.pitch_mm


def _full(definition: str) -> float:
    if definition not in _FULL:
        raise SumError(f'a full thread is by "iso" or "old", not by "{definition}"')
    return _FULL[definition]
