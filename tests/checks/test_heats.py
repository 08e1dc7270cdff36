"""The first guess at heats against the table of the model, and the flow stress against its fit.

The table was worked out apart from this code. Neither is a measurement.
"""

from __future__ import annotations

import pytest

from forgelog.trade.flow import flow_stress_mpa, mean_flow_stress_mpa
from forgelog.trade.heats import Guess, draw_heats, flatten_heats, punch_heats, upset_heats
from forgelog.trade.sections import parse_section as bar


def _jobs(method: str) -> dict[str, Guess]:
    return {
        "draw 12 to 8": draw_heats(bar("12 mm square"), bar("8 mm square"), 150, method),
        "draw 20 to 10 round": draw_heats(bar("20 mm square"), bar("10 mm round"), 200, method),
        "draw 16 to 12": draw_heats(bar("16 mm square"), bar("12 mm square"), 100, method),
        "tenon 10": draw_heats(bar("12 mm square"), bar("10 mm round"), 35, method),
        "tenon 12": draw_heats(bar("20 mm square"), bar("12 mm round"), 40, method),
        "upset": upset_heats(bar("20 mm square"), 60, 40, method),
        "flatten": flatten_heats(bar("12 mm square"), bar("18 x 6 mm flat"), 80, method),
        "punch": punch_heats(bar("20 mm square"), 10, method=method),
    }


# job: blows by hand, window s, expected, heats; by power hammer blows, expected, heats
TABLE = {
    "draw 12 to 8": (102, 22.5, 5.95, 6, 8.2, 0.72, 1),
    "draw 20 to 10 round": (308, 36.4, 10.65, 11, 24.6, 0.91, 1),
    "draw 16 to 12": (101, 33.6, 4.12, 4, 8.1, 0.65, 1),
    "tenon 10": (22, 25.1, 1.53, 2, 1.7, 0.54, 1),
    "tenon 12": (69, 39.1, 2.61, 3, 5.5, 0.58, 1),
    "upset": (92, 57.2, 2.43, 2, 7.5, 0.58, 1),
    "flatten": (105, 24.0, 5.74, 6, 8.4, 0.71, 1),
    "punch": (44, 50.6, 1.55, 2, 3.5, 0.54, 1),
}


@pytest.mark.parametrize(("job", "row"), TABLE.items())
def test_the_first_guess_at_heats(job: str, row: tuple[float, ...]) -> None:
    blows, window, expected, heats, power_blows, power_expected, power_heats = row
    hand, power = _jobs("hand")[job], _jobs("power")[job]
    assert hand.blows == pytest.approx(blows, rel=0.01, abs=0.5)
    assert hand.window_s == pytest.approx(window, rel=0.01)
    assert hand.expected == pytest.approx(expected, rel=0.01)
    assert hand.heats == heats
    assert power.blows == pytest.approx(power_blows, rel=0.01, abs=0.06)
    assert power.expected == pytest.approx(power_expected, rel=0.01)
    assert power.heats == power_heats
    assert power.at_least


# Shida, in Roberts, Hot Rolling of Steel (1983): C %, degC, MPa at strain 0.5 and 1/s, 10/s
SHIDA = [
    (0.15, 900, 163.34, 208.43),
    (0.15, 1100, 82.96, 112.04),
    (0.15, 1200, 62.98, 87.5),
    (0.45, 800, 240.0, 309.35),
    (0.45, 900, 157.03, 207.95),
    (0.45, 1000, 109.36, 148.79),
    (0.45, 1100, 79.96, 111.78),
    (0.45, 1200, 60.79, 87.3),
]


@pytest.mark.parametrize(("carbon", "degc", "slow", "quick"), SHIDA)
def test_the_flow_stress_of_the_fit(carbon: float, degc: float, slow: float, quick: float) -> None:
    assert flow_stress_mpa(degc, carbon, 0.5, 1.0) == pytest.approx(slow, abs=0.02)
    assert flow_stress_mpa(degc, carbon, 0.5, 10.0) == pytest.approx(quick, abs=0.02)


def test_three_fits_agree_on_0_45_carbon_at_1000_degc() -> None:
    # Spittel 147.5, Misaka and Yoshimoto 149.3 MPa at strain 0.5 and 10/s
    assert flow_stress_mpa(1000, 0.45, 0.5, 10.0) == pytest.approx(148.4, rel=0.01)


def test_the_mean_over_the_strain_is_the_mean_over_the_strain() -> None:
    steps = 4000
    total = sum(flow_stress_mpa(1000, 0.2, (i + 0.5) * 0.6 / steps, 250) for i in range(steps))
    assert mean_flow_stress_mpa(1000, 0.2, 0.6, 250) == pytest.approx(total / steps, rel=1e-4)
