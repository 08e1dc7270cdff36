"""How many heats a piece of work should take, before there is a log: a rough first guess.

    W = sigma_mean V e / 0.85;  blows = W / (0.65 E);  x = 1.5 (blows / rate) / window
    expected = x + 1/2, shown as the next whole number above x

The truth lies about `expected` with a log-sd of 0.5, stated, not measured; so is the 1.5. By hand
it runs high on long drawing. With a power hammer it is nearly always 1, because energy is not
what limits it: show that as "at least 1". A figure planned in the recipe outranks it.
"""

from __future__ import annotations

import math

import msgspec

from forgelog.trade.cooling import window_s
from forgelog.trade.errors import SumError, positive
from forgelog.trade.flow import flow_stress_mpa, mean_flow_stress_mpa
from forgelog.trade.sections import Section, area_mm2

LOG_SD = 0.5
"""Spread of the truth about the expected number, stated."""

_FOUR_IN_FIVE = 1.2816
"""Standard deviations either side of the middle that hold 80 % of a normal spread."""

_IDLE = 1.5
_WORK_SHARE = 0.85
_BLOW_SHARE = 0.65
_FORGING_DEGC = 1000.0
_CARBON_PERCENT = 0.20


class Hammer(msgspec.Struct, frozen=True, kw_only=True):
    """What strikes: energy of a blow, its speed and how often."""

    joules: float
    speed_m_s: float
    blows_a_minute: float


HAMMERS = {
    "hand": Hammer(joules=0.5 * 1.2 * 49, speed_m_s=7.0, blows_a_minute=75),
    "striker": Hammer(joules=0.5 * 3.5 * 64, speed_m_s=8.0, blows_a_minute=50),
    "power": Hammer(joules=350.0, speed_m_s=math.sqrt(28), blows_a_minute=200),
    "press": Hammer(joules=350.0, speed_m_s=math.sqrt(28), blows_a_minute=200),
}
"""By method: 1.2 kg by hand; a 3.5 kg sledge (assumed); a 25 kg ram of 350 J (assumed); a press
is taken like the power hammer (assumed)."""


class Guess(msgspec.Struct, frozen=True, kw_only=True):
    """A first guess at the heats of one piece of work."""

    heats: int
    """Whole heats to show, at least 1."""
    expected: float
    """The middle of the guess."""
    blows: float
    window_s: float
    """Working time of one heat."""
    at_least: bool
    """True where energy is not what limits the work, so that it is "at least" so many."""


def draw_heats(before: Section, after: Section, long_mm: float, method: str = "hand") -> Guess:
    """Heats to draw a bar down to a length of another, a tenon or a set-down among them.

    Args:
        before: The bar.
        after: What it is drawn to; a smaller section.
        long_mm: Length of the result, mm.
        method: hand, striker, power or press.

    Raises:
        SumError: the section does not become smaller, or a size or the method cannot be.
    """
    ratio = area_mm2(before) / area_mm2(after)
    if ratio <= 1:
        raise SumError("drawing down makes the section smaller, not larger")
    volume = area_mm2(after) * positive("length", long_mm, "mm")
    return work_heats(
        strain=math.log(ratio),
        volume_mm3=volume,
        thick_mm=struck_mm(before),
        before=before,
        after=after,
        method=method,
    )


def upset_heats(bar: Section, from_mm: float, to_mm: float, method: str = "hand") -> Guess:
    """Heats to upset a length of bar to a shorter one.

    Args:
        bar: The bar; it is taken to keep its shape as it thickens.
        from_mm: Length before, mm.
        to_mm: Length after, mm.
        method: hand, striker, power or press.

    Raises:
        SumError: the length does not become shorter, or a size or the method cannot be.
    """
    ratio = positive("length before", from_mm, "mm") / positive("length after", to_mm, "mm")
    if ratio <= 1:
        raise SumError("upsetting makes the bar shorter, not longer")
    grown = math.sqrt(ratio)
    after = msgspec.structs.replace(
        bar, a_mm=bar.a_mm * grown, b_mm=bar.b_mm * grown, c_mm=bar.c_mm * grown
    )
    return work_heats(
        strain=math.log(ratio),
        volume_mm3=area_mm2(bar) * from_mm,
        thick_mm=from_mm,
        before=bar,
        after=after,
        method=method,
    )


def flatten_heats(before: Section, after: Section, bar_mm: float, method: str = "hand") -> Guess:
    """Heats to flatten or spread a length of bar.

    Args:
        before: The bar.
        after: The flat that it becomes.
        bar_mm: Length of bar that is flattened, before the work, mm.
        method: hand, striker, power or press.

    Raises:
        SumError: it does not become thinner, or a size or the method cannot be.
    """
    ratio = struck_mm(before) / struck_mm(after)
    if ratio <= 1:
        raise SumError("flattening makes the bar thinner, not thicker")
    return work_heats(
        strain=math.log(ratio),
        volume_mm3=area_mm2(before) * positive("length", bar_mm, "mm"),
        thick_mm=struck_mm(before),
        before=before,
        after=after,
        method=method,
    )


def punch_heats(
    bar: Section, across_mm: float, deep_mm: float | None = None, method: str = "hand"
) -> Guess:
    """Heats to punch a round hole through a bar.

    Args:
        bar: The bar.
        across_mm: Diameter of the punch, mm.
        deep_mm: Thickness that is punched; the bar's own where it is not given. mm.
        method: hand, striker, power or press.

    Raises:
        SumError: a size or the method cannot be.

    Source:
        W = 3 sigma (pi d^2/4)(0.7 depth)/0.85: factor 3, R. Hill 1950 (from memory); 0.7 is
        common practice.
    """
    hammer = _hammer(method)
    deep = struck_mm(bar) if deep_mm is None else positive("depth", deep_mm, "mm")
    area = math.pi / 4 * positive("punch", across_mm, "mm") ** 2
    rate = 1000 * hammer.speed_m_s / (2 * deep)
    stress = flow_stress_mpa(_FORGING_DEGC, _CARBON_PERCENT, 0.5, rate)
    joules = 3 * stress * area * 0.7 * deep / _WORK_SHARE / 1000
    return _guess(joules, bar, bar, method)


def work_heats(
    *,
    strain: float,
    volume_mm3: float,
    thick_mm: float,
    before: Section,
    after: Section,
    method: str = "hand",
) -> Guess:
    """Heats for a strain all through a volume.

    Args:
        strain: True strain, > 0.
        volume_mm3: What is worked, mm3.
        thick_mm: Thickness under the hammer when the work begins, mm.
        before: Section before, and
        after: after; the window of a heat is the mean of theirs.
        method: hand, striker, power or press.

    Raises:
        SumError: a size or the method cannot be.
    """
    rate = 1000 * _hammer(method).speed_m_s / (2 * positive("thickness", thick_mm, "mm"))
    stress = mean_flow_stress_mpa(_FORGING_DEGC, _CARBON_PERCENT, strain, rate)
    joules = stress * positive("volume", volume_mm3, "mm3") * strain / _WORK_SHARE / 1000
    return _guess(joules, before, after, method)


def struck_mm(section: Section) -> float:
    """Thickness of a section as it lies on the anvil, mm: of a flat the smaller size."""
    return min(section.a_mm, section.b_mm) if section.kind == "flat" else section.a_mm


def spread_ratio(wide_mm: float, bite_mm: float, before_mm: float, after_mm: float) -> float:
    """How much wider a bar grows when a bite of it is hammered thinner: w1/w0.

    Args:
        wide_mm: Width of the bar, mm.
        bite_mm: Length under the hammer along the bar, mm.
        before_mm: Thickness before, and
        after_mm: after, mm.

    Raises:
        SumError: a size cannot be, or the bite is over three times the width.

    Source:
        S = 0.14 + 0.36 b/w - 0.054 (b/w)^2: A. Tomlinson, J. D. Stringer, J. Iron Steel Inst.
        193 (1959) 157 (from memory).
    """
    bite = positive("bite", bite_mm, "mm") / positive("width", wide_mm, "mm")
    if bite > 3:
        raise SumError("a bite over three times the width is outside the rule of spread")
    share = 0.14 + 0.36 * bite - 0.054 * bite * bite
    thinner = positive("thickness before", before_mm, "mm")
    thinner /= positive("thickness after", after_mm, "mm")
    return math.pow(thinner, share)


def guess_range(guess: Guess) -> tuple[int, int]:
    """Whole heats between which the truth lies most often (four times in five, as stated).

    Args:
        guess: A first guess.

    Returns:
        The fewest and the most, each at least 1.
    """
    spread = math.exp(_FOUR_IN_FIVE * LOG_SD)
    low = math.floor(guess.expected / spread + 0.5)
    high = math.floor(guess.expected * spread + 0.5)
    return max(1, min(low, guess.heats)), max(1, high, guess.heats)


def _guess(joules: float, before: Section, after: Section, method: str) -> Guess:
    hammer = _hammer(method)
    blows = joules / (_BLOW_SHARE * hammer.joules)
    window = (window_s(before, method=method) + window_s(after, method=method)) / 2
    expected = _IDLE * (blows / hammer.blows_a_minute * 60) / window + 0.5
    return Guess(
        heats=max(1, math.floor(expected + 0.5)),
        expected=expected,
        blows=blows,
        window_s=window,
        at_least=method in ("power", "press"),
    )


def _hammer(method: str) -> Hammer:
    hammer = HAMMERS.get(method)
    if hammer is None:
        raise SumError(f'there is no sum for the method "{method}"; there is {", ".join(HAMMERS)}')
    return hammer
