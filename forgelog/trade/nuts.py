"""Nuts from a forged blank, and heads of forged bolts."""

from __future__ import annotations

import math

import msgspec

from forgelog.trade.engage import engagement_mm
from forgelog.trade.errors import SumError, positive
from forgelog.trade.sections import DENSITY_KG_M3, Section, area_mm2
from forgelog.trade.threads import Thread

WALLS = {"punched": 0.5, "drilled": 0.4}
"""Wall at its thinnest, in diameters of the thread, by how the hole is made. Common practice:
a hole punched by hand may wander, so M12 wants 24 mm across; drilled on the centre 22 will do."""

MILD_UTS_MPA = 360.0
"""Least tensile strength of S235. Source: EN 10025-2."""

SLUG_SHARE = 0.3
"""Share of a punched hole that leaves as a slug; the rest swells the blank. Common practice."""

DRESSING_MM = 1.0
"""Cut so much longer than the nut is across, to dress the ends square. Common practice."""

GALVANISED_MM = 0.04
"""Zinc on a thread, local thickness. Source: ISO 10684."""


class NutBlank(msgspec.Struct, frozen=True, kw_only=True):
    """What a nut's blank must have before the hole is made."""

    across_mm: float
    """Least width of the finished nut, across flats; whole mm."""
    high_mm: float
    """Least height after flattening and chamfers."""
    wall_mm: float
    """The wall that this leaves around the thread."""
    volume_mm3: float
    """Of the blank, for a square nut, with scale."""
    mass_kg: float
    hole_mm: float
    """Drill before the tap."""


class NutCheck(msgspec.Struct, frozen=True, kw_only=True):
    """Whether a nut of a size is enough for its thread, and what would be."""

    enough: bool
    why: str
    """One line for the smith."""
    wall_mm: float
    """Wall at its thinnest when it is tapped."""
    wall_needed_mm: float
    across_needed_mm: float
    """Across flats at which the wall would do."""
    high_needed_mm: float
    """Full thread that must engage, by the weaker of the two steels."""
    threads_caught: float
    """Turns of thread in its height."""


class BlankCheck(msgspec.Struct, frozen=True, kw_only=True):
    """Whether a piece of bar is enough for a nut."""

    enough: bool
    why: str
    """One line for the smith."""
    wall_mm: float
    """Wall at its thinnest when it is tapped."""
    high_mm: float
    """Height that is left."""


def nut_blank(
    thread: Thread,
    *,
    made: str = "punched",
    bolt_uts_mpa: float = MILD_UTS_MPA,
    nut_uts_mpa: float = MILD_UTS_MPA,
    loss: float = 0.04,
) -> NutBlank:
    """The smallest square blank that gives a nut for a thread.

    Args:
        thread: Size and pitch.
        made: punched by hand, or drilled on the centre.
        bolt_uts_mpa: Tensile strength of the bolt, MPa.
        nut_uts_mpa: Tensile strength of the nut, MPa.
        loss: Share lost as scale.

    Raises:
        SumError: no such way to make a hole, or a value that cannot be.
    """
    across = math.ceil(thread.major_mm * (1 + 2 * _wall(made)) - 1e-9)
    # one thread is lost in the chamfers, and a bought nut is no worse a guide than the sum
    high = engagement_mm(thread, bolt_uts_mpa, nut_uts_mpa) + thread.pitch_mm
    hole = math.pi / 4 * thread.tap_drill_mm**2 * high
    stays = 0.0 if made == "drilled" else hole * (1 - SLUG_SHARE)
    volume = (across * across * high - stays) / (1 - loss)
    return NutBlank(
        across_mm=float(across),
        high_mm=high,
        wall_mm=(across - thread.major_mm) / 2,
        volume_mm3=volume,
        mass_kg=volume * DENSITY_KG_M3 / 1e9,
        hole_mm=thread.tap_drill_mm,
    )


def check_blank(
    thread: Thread,
    bar: Section,
    cut_mm: float,
    *,
    made: str = "punched",
    flattened_mm: float = 1.0,
    bolt_uts_mpa: float = MILD_UTS_MPA,
    nut_uts_mpa: float = MILD_UTS_MPA,
) -> BlankCheck:
    """Whether a length of flat bar is enough for a nut: a blank too small is found at the tap.

    Args:
        thread: Size and pitch.
        bar: A flat, as thick as the nut is high.
        cut_mm: Length that is cut off it, mm.
        made: punched or drilled.
        flattened_mm: What flattening and chamfers take off the height, mm.
        bolt_uts_mpa: Tensile strength of the bolt, MPa.
        nut_uts_mpa: Tensile strength of the nut, MPa.

    Raises:
        SumError: the bar is no flat, or a value that cannot be.
    """
    if bar.kind != "flat":
        raise SumError("a nut's blank is cut from flat, as thick as the nut is high")
    wide, thick = max(bar.a_mm, bar.b_mm), min(bar.a_mm, bar.b_mm)
    found = check_nut(
        thread,
        min(wide, positive("cut", cut_mm, "mm")),
        thick - flattened_mm,
        made=made,
        bolt_uts_mpa=bolt_uts_mpa,
        nut_uts_mpa=nut_uts_mpa,
    )
    return BlankCheck(
        enough=found.enough, why=found.why, wall_mm=found.wall_mm, high_mm=thick - flattened_mm
    )


def check_nut(
    thread: Thread,
    across_mm: float,
    high_mm: float,
    *,
    made: str = "punched",
    bolt_uts_mpa: float = MILD_UTS_MPA,
    nut_uts_mpa: float = MILD_UTS_MPA,
    galvanised: bool = False,
) -> NutCheck:
    """Whether a nut has wall and height enough for its thread.

    Args:
        thread: Size and pitch.
        across_mm: Across flats at its narrowest, mm.
        high_mm: Height that is left after flattening and chamfers, mm.
        made: punched or drilled.
        bolt_uts_mpa: Tensile strength of the bolt, MPa.
        nut_uts_mpa: Tensile strength of the nut, MPa.
        galvanised: True where the bolt is galvanised and its nut tapped larger.

    Raises:
        SumError: no such way to make a hole, a value that cannot be, or a galvanised thread
            below M8.
    """
    positive("width across flats", across_mm, "mm")
    wall = (across_mm - thread.major_mm) / 2
    wanted = _wall(made) * thread.major_mm
    oversize = galvanised_oversize_mm(thread) if galvanised else 0.0
    needed = engagement_mm(thread, bolt_uts_mpa, nut_uts_mpa, oversize)
    if wall < wanted - 1e-9:
        why = (
            f"the wall is {wall:.1f} mm; {made}, it should be {wanted:.1f}: "
            f"{thread.major_mm + 2 * wanted:.0f} mm across"
        )
    elif high_mm < needed:
        why = f"{high_mm:.1f} mm is left of its height; {needed:.1f} mm of thread must engage"
    else:
        why = f"wall {wall:.1f} mm, height {high_mm:.1f} mm"
    return NutCheck(
        enough=wall >= wanted - 1e-9 and high_mm >= needed,
        why=why,
        wall_mm=wall,
        wall_needed_mm=wanted,
        across_needed_mm=thread.major_mm + 2 * wanted,
        high_needed_mm=needed,
        threads_caught=max(0.0, high_mm) / thread.pitch_mm,
    )


def galvanised_oversize_mm(thread: Thread) -> float:
    """By how much a nut is tapped larger for a bolt that is galvanised, mm on the diameter.

    Raises:
        SumError: below M8, where threads are not galvanised.

    Source:
        40 um of zinc on the thread, and M8 the smallest: ISO 10684. A coat of t on both flanks
        adds 2 t / sin(half the angle of the thread) to the pitch diameter.
    """
    if thread.major_mm < 7.9:
        raise SumError(f"threads below M8 are not galvanised (ISO 10684); {thread.name} is")
    half = math.radians(27.5 if thread.series == "BSW" else 30.0)
    return 2 * GALVANISED_MM / math.sin(half)


def blank_cut_mm(blank: NutBlank, bar: Section) -> float:
    """Length to cut off a flat for a nut's blank, mm: enough material, and enough across.

    Raises:
        SumError: the bar is no flat, or narrower than the nut.
    """
    if bar.kind != "flat":
        raise SumError("a nut's blank is cut from flat, as thick as the nut is high")
    wide = max(bar.a_mm, bar.b_mm)
    if wide < blank.across_mm:
        raise SumError(f"the flat is {wide:g} mm wide; the nut is {blank.across_mm:g} across")
    return max(blank.volume_mm3 / area_mm2(bar), blank.across_mm + DRESSING_MM)


def blank_cut_for_mm(
    thread: Thread,
    across_mm: float,
    high_mm: float,
    bar: Section,
    *,
    made: str = "punched",
    loss: float = 0.04,
) -> float:
    """Length to cut off a flat for a square nut of a size, mm.

    Args:
        thread: Size and pitch.
        across_mm: Across flats, mm.
        high_mm: Height when it is finished, mm.
        bar: The flat.
        made: punched or drilled.
        loss: Share lost as scale.

    Raises:
        SumError: the bar is no flat or narrower than the nut, or a size cannot be.
    """
    _wall(made)
    hole = math.pi / 4 * thread.tap_drill_mm**2 * positive("height", high_mm, "mm")
    stays = 0.0 if made == "drilled" else hole * (1 - SLUG_SHARE)
    across = positive("width across flats", across_mm, "mm")
    volume = max(across * across * high_mm - stays, 0.0) / (1 - loss)
    blank = NutBlank(
        across_mm=across,
        high_mm=high_mm,
        wall_mm=(across - thread.major_mm) / 2,
        volume_mm3=volume,
        mass_kg=volume * DENSITY_KG_M3 / 1e9,
        hole_mm=thread.tap_drill_mm,
    )
    return blank_cut_mm(blank, bar)


def forged_head_mm(thread: Thread) -> tuple[float, float]:
    """Across flats and height of a forged square or hexagon head, mm.

    Source: United States standard (Sellers), 1.5 D + 1/8 in and half of that, as printed in Shop
    Practice vol. 1, Bolts.
    """
    across = 1.5 * thread.major_mm + 25.4 / 8
    return across, across / 2


def _wall(made: str) -> float:
    wall = WALLS.get(made)
    if wall is None:
        raise SumError(f'a hole is punched or drilled, not "{made}"')
    return wall
