"""Limits of the usual classes of thread: 6g and 6H (5H and 6h below M1.6), 2A and 2B.

Source: the tables of ISO 965-1 and, where they have no entry, its formulas of clause 13, rounded
to the R40 series of preferred numbers; ASME B1.1 section 5 for inches (all from memory, checked
against published limits to 1 um and to the last printed digit).
"""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import math
from typing import NamedTuple

from forgelog.trade.threads import Thread


class ThreadLimits(NamedTuple):
    """Largest and smallest diameters of bolt and nut, mm."""

    bolt_class: str
    nut_class: str
    bolt_major_max_mm: float
    bolt_major_min_mm: float
    bolt_pitch_max_mm: float
    bolt_pitch_min_mm: float
    nut_minor_min_mm: float
    nut_minor_max_mm: float
    nut_pitch_min_mm: float
    nut_pitch_max_mm: float


_R40 = (
    *(1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36),
    *(2.5, 2.65, 2.8, 3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0),
    *(6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5, 10.0),
)
_STEPS_MM = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0)

_BY_PITCH = {
    0.2: (17, 56, 48),
    0.25: (18, 67, 56),
    0.3: (18, 75, 67),
    0.35: (19, 85, 100),
    0.4: (19, 95, 112),
    0.45: (20, 100, 125),
    0.5: (20, 106, 140),
    0.6: (21, 125, 160),
    0.7: (22, 140, 180),
    0.75: (22, 140, 190),
    0.8: (24, 150, 200),
    1.0: (26, 180, 236),
    1.25: (28, 212, 265),
    1.5: (32, 236, 300),
    1.75: (34, 265, 335),
    2.0: (38, 280, 375),
    2.5: (42, 335, 450),
    3.0: (48, 375, 500),
    3.5: (53, 425, 560),
    4.0: (60, 475, 600),
    4.5: (63, 500, 670),
    5.0: (71, 530, 710),
    5.5: (75, 560, 750),
    6.0: (80, 600, 800),
}
"""um by pitch: es of g, Td of 6, TD1 of 6 (of 5 up to 0.3). Source: ISO 965-1 tables 1, 2 and 3
(from memory)."""

_BY_STEP = {
    0.99: {0.2: (48, 50), 0.25: (53, 56), 0.3: (56, 60)},
    1.4: {0.2: (50, 53), 0.25: (56, 60), 0.35: (63, 85), 0.4: (67, 90), 0.45: (71, 95)},
    2.8: {
        0.35: (67, 90),
        0.5: (75, 100),
        0.6: (85, 112),
        0.7: (90, 118),
        0.75: (90, 118),
        0.8: (95, 125),
    },
    5.6: {0.75: (100, 132), 1.0: (112, 150), 1.25: (118, 160), 1.5: (132, 180)},
    11.2: {
        1.0: (118, 160),
        1.25: (132, 180),
        1.5: (140, 190),
        1.75: (150, 200),
        2.0: (160, 212),
        2.5: (170, 224),
    },
    22.4: {
        1.0: (125, 170),
        1.5: (150, 200),
        2.0: (170, 224),
        3.0: (200, 265),
        3.5: (212, 280),
        4.0: (224, 300),
        4.5: (236, 315),
    },
    45.0: {
        1.5: (160, 212),
        2.0: (180, 236),
        3.0: (212, 280),
        4.0: (236, 315),
        5.0: (250, 335),
        5.5: (265, 355),
        6.0: (280, 375),
    },
}
"""um by diameter above and pitch: Td2 of 6, TD2 of 6 (of 5 below M1.6 and for the pitches 0.2 and
0.25). Source: ISO 965-1 tables 4 and 5 (from memory)."""


def limits(thread: Thread) -> ThreadLimits:
    """Limits of a thread: 6g/6H of a metric one, 2A/2B of UNC and UNF.

    BSW has limits of its own in BS 84, which are not here: its basic sizes stand for them.
    """
    if thread.series == "metric":
        return _metric(thread)
    if thread.series == "BSW":
        return ThreadLimits(
            bolt_class="basic",
            nut_class="basic",
            bolt_major_max_mm=thread.major_mm,
            bolt_major_min_mm=thread.major_mm,
            bolt_pitch_max_mm=thread.pitch_diameter_mm,
            bolt_pitch_min_mm=thread.pitch_diameter_mm,
            nut_minor_min_mm=thread.minor_mm,
            nut_minor_max_mm=thread.minor_mm,
            nut_pitch_min_mm=thread.pitch_diameter_mm,
            nut_pitch_max_mm=thread.pitch_diameter_mm,
        )
    return _unified(thread)


def _metric(thread: Thread) -> ThreadLimits:
    pitch, size = thread.pitch_mm, thread.major_mm
    fine = size < 1.6 or pitch < 0.35
    away_um, major_um, minor_um = _BY_PITCH.get(pitch) or _of_pitch(pitch)
    bolt_um, nut_um = _of_size(size, pitch)
    away = 0.0 if size < 1.6 else away_um / 1000
    d2, d1 = round(thread.pitch_diameter_mm, 3), round(thread.minor_mm, 3)
    return ThreadLimits(
        bolt_class="6h" if size < 1.6 else "6g",
        nut_class="5H" if fine else "6H",
        bolt_major_max_mm=size - away,
        bolt_major_min_mm=size - away - major_um / 1000,
        bolt_pitch_max_mm=d2 - away,
        bolt_pitch_min_mm=d2 - away - bolt_um / 1000,
        nut_minor_min_mm=d1,
        nut_minor_max_mm=d1 + minor_um / 1000,
        nut_pitch_min_mm=d2,
        nut_pitch_max_mm=d2 + nut_um / 1000,
    )


def _of_pitch(pitch: float) -> tuple[float, float, float]:
    """What `_BY_PITCH` would hold for a pitch that it has not, by the formulas."""
    minor = 230 * math.pow(pitch, 0.7)
    if pitch < 1:
        minor = 433 * pitch - 190 * math.pow(pitch, 1.22)
    if pitch < 0.35:
        minor *= 0.8
    major = 180 * math.pow(pitch, 2 / 3) - 3.15 / math.sqrt(pitch)
    return (
        round(preferred(15 + 11 * pitch)),
        round(preferred(max(major, 1.0))),
        round(preferred(minor)),
    )


def _of_size(size: float, pitch: float) -> tuple[float, float]:
    """Tolerances of the pitch diameters of bolt and nut, um, by table or else by formula."""
    low = max((step for step in _STEPS_MM if step < size), default=_STEPS_MM[0])
    high = min((step for step in _STEPS_MM if step >= size), default=2 * size)
    if size > _STEPS_MM[-1]:
        low, high = size / math.sqrt(2), size * math.sqrt(2)
    listed = _BY_STEP.get(low, {}).get(pitch)
    if listed is not None:
        return listed
    bolt = 90 * math.pow(pitch, 0.4) * math.pow(low * high, 0.05)
    nut = (1.06 if size < 1.6 or pitch < 0.35 else 1.32) * bolt
    return round(preferred(bolt)), round(preferred(nut))


def _unified(thread: Thread) -> ThreadLimits:
    size, pitch = thread.major_mm / 25.4, thread.pitch_mm / 25.4
    bolt_pitch = 0.0015 * math.cbrt(size) + 0.0015 * math.sqrt(size)
    bolt_pitch += 0.015 * math.pow(pitch, 2 / 3)
    away = 0.3 * bolt_pitch
    major = 0.060 * math.pow(pitch, 2 / 3)
    minor = 0.25 * pitch - 0.4 * pitch * pitch
    d2, d1 = thread.pitch_diameter_mm / 25.4, thread.minor_mm / 25.4
    return ThreadLimits(
        bolt_class="2A",
        nut_class="2B",
        bolt_major_max_mm=(size - away) * 25.4,
        bolt_major_min_mm=(size - away - major) * 25.4,
        bolt_pitch_max_mm=(d2 - away) * 25.4,
        bolt_pitch_min_mm=(d2 - away - bolt_pitch) * 25.4,
        nut_minor_min_mm=d1 * 25.4,
        nut_minor_max_mm=(d1 + minor) * 25.4,
        nut_pitch_min_mm=d2 * 25.4,
        nut_pitch_max_mm=(d2 + 1.3 * bolt_pitch) * 25.4,
    )


def preferred(value: float) -> float:
    """The nearest number of the R40 series."""
    power = math.floor(math.log10(value))
    head = value / 10**power
    return float(min(_R40, key=lambda one: abs(math.log(one / head)))) * 10.0**power
