"""How hard hot steel is to forge: flow stress by a published fit.

Source: S. Shida, 1969, as printed in W. L. Roberts, Hot Rolling of Steel (1983), the branch above
the change (austenite), with the rate factors above 100/s of its later extension (from memory).
Fitted for up to 1.2 % carbon, 700 to 1200 degC, strain to 0.7 and 100/s; hammer blows are faster.
Published fits for mild steel at 1000 degC differ by 40 % (95 to 120 MPa at strain 0.5 and 1/s).
"""

from __future__ import annotations

import math

from forgelog.trade.errors import SumError, positive

LARGEST_STRAIN = 0.7
"""The fit ends here; larger strains count as this one."""

_KGF_MM2 = 9.80665


def flow_stress_mpa(degc: float, carbon_percent: float, strain: float, rate_s: float) -> float:
    """Flow stress at a strain, MPa.

    Args:
        degc: 700 to 1300; below the change of the grade the fit does not hold.
        carbon_percent: 0 to 1.2.
        strain: True strain, > 0; above 0.7 it counts as 0.7.
        rate_s: Strain a second, > 0.

    Raises:
        SumError: outside the range of the fit.
    """
    base, n = _base(degc, carbon_percent, positive("rate of strain", rate_s, "/s"))
    part = min(positive("strain", strain, ""), LARGEST_STRAIN) / 0.2
    return base * (1.3 * math.pow(part, n) - 0.3 * part)


def mean_flow_stress_mpa(degc: float, carbon_percent: float, strain: float, rate_s: float) -> float:
    """Flow stress averaged over the strain from nothing, MPa, in closed form.

    Args:
        degc: 700 to 1300.
        carbon_percent: 0 to 1.2.
        strain: True strain at the end, > 0; above 0.7 it counts as 0.7.
        rate_s: Strain a second, > 0.

    Raises:
        SumError: outside the range of the fit.
    """
    base, n = _base(degc, carbon_percent, positive("rate of strain", rate_s, "/s"))
    part = min(positive("strain", strain, ""), LARGEST_STRAIN) / 0.2
    return base * (1.3 * math.pow(part, n) / (n + 1) - 0.15 * part)


def _base(degc: float, carbon: float, rate_s: float) -> tuple[float, float]:
    """What does not depend on the strain, MPa, and the exponent of the strain."""
    if not 700 <= degc <= 1300:
        raise SumError(f"flow stress is known from 700 to 1300 degC, not at {degc:g}")
    if not 0 <= carbon <= 1.2:
        raise SumError(f"flow stress is known for up to 1.2 % carbon, not for {carbon:g}")
    kelvin = (degc + 273.15) / 1000
    if kelvin < 0.95 * (carbon + 0.41) / (carbon + 0.32):
        raise SumError(f"at {degc:g} degC this steel is below the range of the sum")
    m = (-0.019 * carbon + 0.126) * kelvin + (0.076 * carbon - 0.05)
    base = _KGF_MM2 * 0.28 * math.exp(5 / kelvin - 0.01 / (carbon + 0.05))
    base *= math.pow(rate_s / 10, m)
    if rate_s > 100:
        base *= math.pow(rate_s / 100, m / 2.4)
    if rate_s > 1000:
        base *= math.pow(rate_s / 1000, m / 15)
    return base, 0.41 - 0.07 * carbon
