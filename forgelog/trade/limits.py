"""Limits of the usual classes of thread: 6g and 6H, 2A and 2B.

Source: the formulas of ISO 965-1 clause 13 and of ASME B1.1 section 5 (both from memory, checked
against published tables to 1 um and to the last printed digit). Metric tolerances are rounded
to the R40 series of preferred numbers; the two places where the printed table stands a step off
the formula follow the table.
"""

from __future__ import annotations

import math

import msgspec

from forgelog.trade.threads import Thread


class ThreadLimits(msgspec.Struct, frozen=True, kw_only=True):
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
_NUT_MINOR_UM = {2.5: 450.0}
"""Printed where the formula gives 436.8 and R40 would be 425."""
_NUT_PITCH_UM = {(5.6, 1.5): 180.0}
"""Printed for M10 where the formula gives 171.8 and R40 would be 170."""


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
    low = max(step for step in _STEPS_MM if step < size)
    high = min(step for step in _STEPS_MM if step >= size)
    middle = math.sqrt(low * high)
    away = round(_preferred(15 + 11 * pitch)) / 1000
    major = _preferred(180 * math.pow(pitch, 2 / 3) - 3.15 / math.sqrt(pitch)) / 1000
    bolt_pitch = 90 * math.pow(pitch, 0.4) * math.pow(middle, 0.1)
    nut_pitch = _NUT_PITCH_UM.get((low, pitch)) or _preferred(1.32 * bolt_pitch)
    minor = 230 * math.pow(pitch, 0.7)
    if pitch < 1:
        minor = 433 * pitch - 190 * math.pow(pitch, 1.22)
    nut_minor = _NUT_MINOR_UM.get(pitch) or _preferred(minor)
    d2, d1 = round(thread.pitch_diameter_mm, 3), round(thread.minor_mm, 3)
    return ThreadLimits(
        bolt_class="6g",
        nut_class="6H",
        bolt_major_max_mm=size - away,
        bolt_major_min_mm=size - away - major,
        bolt_pitch_max_mm=d2 - away,
        bolt_pitch_min_mm=d2 - away - _preferred(bolt_pitch) / 1000,
        nut_minor_min_mm=d1,
        nut_minor_max_mm=d1 + nut_minor / 1000,
        nut_pitch_min_mm=d2,
        nut_pitch_max_mm=d2 + nut_pitch / 1000,
    )


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


def _preferred(value: float) -> float:
    """The nearest number of the R40 series."""
    power = math.floor(math.log10(value))
    head = value / 10**power
    return float(min(_R40, key=lambda one: abs(math.log(one / head)))) * 10.0**power
