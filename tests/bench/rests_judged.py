"""Are rests judged honestly? Simulated rests whose truth is known, the same ones on every run.

    python -m tests.bench.rests_judged [COUNT]        10,000 where no count is named

Nothing here was measured. The truth is worked out here by sums of its own, with what the program
cannot know drawn within the bands that it states:

- emissivity 0.74 to 0.89 (the program takes 0.80); natural draught by another textbook formula,
  h = 1.32 (dT/D)^0.25 (from memory), times 0.8 to 1.25; a draught of 2 to 4.5 m/s (the program
  takes 3) by Hilpert's formula (from memory); a bed up to 1.9 times better or worse than thought;
- the bar is up to 4 % thicker or thinner than the recipe says, began up to 40 K hotter or colder,
  and the room is up to 5 K off what was set;
- the heat of transformation comes out up to 55 K lower than the standard's peak (on cooling it
  does);
- rests last from a hundredth of the time that is needed to six times it.

A rest was kept where the bar's mean came down to what was asked; it was skipped where it lost less
than a tenth of the way there. The one thing that must never be: a kept rest called skipped, or a
skipped one called ok.
"""

from __future__ import annotations

import math
import random
import sys
from collections import Counter
from typing import NamedTuple

from forgelog.trade.rests import rest_verdict, spread
from forgelog.trade.sections import Section, parse_section

SEED = 727
KEPT, BETWEEN, SKIPPED = "kept", "between", "skipped"
SKIPPED_SHARE = 0.10

_SECTIONS = tuple(
    parse_section(words)
    for words in (
        "8 mm square",
        "12 mm square",
        "20 mm square",
        "30 mm square",
        "12 mm round",
        "25 mm round",
        "40 x 10 mm flat",
        "30 x 5 mm flat",
    )
)
_GOALS_DEGC = (540.0, 480.0, 300.0, 200.0, 90.0, 45.0)
_SIGMA = 5.670374e-8
_STEPS = 90


class Rest(NamedTuple):
    """One simulated rest: what the program is told, and what is true."""

    section: Section
    medium: str
    start_degc: float
    required_degc: float
    air_degc: float
    rested_s: float
    true_needed_s: float
    true_share: float
    """Of the way down that was asked for."""

    @property
    def truth(self) -> str:
        """What happened."""
        if self.rested_s >= self.true_needed_s:
            return KEPT
        return SKIPPED if self.true_share < SKIPPED_SHARE else BETWEEN

    @property
    def word(self) -> str:
        """What the program says."""
        return rest_verdict(
            self.section,
            self.start_degc,
            rested_s=self.rested_s,
            required_degc=self.required_degc,
            medium=self.medium,
            air_degc=self.air_degc,
        ).word


def simulate(count: int, seed: int = SEED) -> list[Rest]:
    """So many rests."""
    rng = random.Random(seed)
    return [_rest(rng) for _ in range(count)]


def tally(rests: list[Rest]) -> Counter[tuple[str, str]]:
    """How often each truth got each word."""
    return Counter((rest.truth, rest.word) for rest in rests)


def _rest(rng: random.Random) -> Rest:
    section = rng.choice(_SECTIONS)
    medium = rng.choice(("still air", "still air", "draught", "bed"))
    start = rng.uniform(700.0, 1100.0)
    required = rng.choice(_GOALS_DEGC)
    air = rng.uniform(0.0, 30.0)
    fall = _Fall(rng, section, medium, start + rng.uniform(-40.0, 40.0), air)
    needed_s = fall.seconds_to(required)
    rested_s = needed_s * math.exp(rng.uniform(math.log(0.01), math.log(6.0)))
    down = fall.start_degc - fall.degc_after(rested_s)
    return Rest(
        section=section,
        medium=medium,
        start_degc=start,
        required_degc=required,
        air_degc=air,
        rested_s=rested_s,
        true_needed_s=needed_s,
        true_share=down / (fall.start_degc - required),
    )


class _Fall:
    """How one bar truly cools: time against temperature, by a plain sum over small falls."""

    def __init__(
        self, rng: random.Random, section: Section, medium: str, start: float, air: float
    ) -> None:
        self.start_degc = start
        self.air_degc = air + rng.uniform(-5.0, 5.0)
        area, around = _area_and_around(section)
        thick = rng.uniform(0.96, 1.04)
        self.depth_m = thick * area / around / 1000.0
        self.across_m = thick * around / math.pi / 1000.0
        self.medium = medium
        self.emissivity = rng.uniform(0.74, 0.89)
        self.natural = rng.uniform(0.8, 1.25)
        self.wind = rng.uniform(2.0, 4.5)
        self.bed = 1.9 ** rng.uniform(-1.0, 1.0)
        self.later_k = rng.uniform(0.0, 55.0)
        last = max(self.air_degc + 1.0, 21.0)
        ratio = (last - self.air_degc) / (start - self.air_degc)
        self.degc = [
            self.air_degc + (start - self.air_degc) * ratio ** (i / _STEPS)
            for i in range(_STEPS + 1)
        ]
        self.seconds = [0.0]
        for a, b in zip(self.degc, self.degc[1:], strict=False):
            # The peak of the specific heat is narrow: several looks into each fall.
            warm = sum(self._capacity(b + (a - b) * (j + 0.5) / 8) for j in range(8)) / 8
            rate = (self._loss(a) + self._loss(b)) / 2.0
            self.seconds.append(self.seconds[-1] + 7850.0 * self.depth_m * warm * (a - b) / rate)

    def seconds_to(self, degc: float) -> float:
        """Seconds to a mean temperature."""
        for i, low in enumerate(self.degc[1:]):
            if low <= degc:
                share = (self.degc[i] - degc) / (self.degc[i] - low)
                return self.seconds[i] + share * (self.seconds[i + 1] - self.seconds[i])
        return self.seconds[-1]

    def degc_after(self, seconds: float) -> float:
        """Mean temperature after so long."""
        for i, late in enumerate(self.seconds[1:]):
            if late >= seconds:
                share = (seconds - self.seconds[i]) / (late - self.seconds[i])
                return self.degc[i] - share * (self.degc[i] - self.degc[i + 1])
        return self.degc[-1]

    def _loss(self, degc: float) -> float:
        over = degc - self.air_degc
        if self.medium == "bed":
            radius = self.across_m / 2.0
            return self.bed * 0.15 / (radius * math.log((radius + 0.06) / radius)) * over
        h = 1.32 * (over / self.across_m) ** 0.25 * self.natural
        if self.medium == "draught":
            film = (degc + self.air_degc) / 2.0 + 273.15
            viscosity = 1.5e-5 * (film / 293.0) ** 1.7
            conducts = 0.0257 * (film / 293.0) ** 0.8
            reynolds = self.wind * self.across_m / viscosity
            c, m = (0.683, 0.466) if reynolds < 4000.0 else (0.193, 0.618)
            h = max(h, conducts / self.across_m * c * reynolds**m)
        glow = (degc + 273.15) ** 4 - (self.air_degc + 273.15) ** 4
        return self.emissivity * _SIGMA * glow + h * over

    def _capacity(self, degc: float) -> float:
        """Specific heat of EN 1993-1-2:2005 3.4.1.2, with its peak moved down."""
        t = degc
        if degc > 600.0 - self.later_k:
            t = degc + self.later_k * (1.0 if degc < 900.0 - self.later_k else 0.0)
        if t <= 600.0:
            return 425.0 + 0.773 * t - 1.69e-3 * t**2 + 2.22e-6 * t**3
        if t <= 735.0:
            return 666.0 + 13002.0 / (738.0 - t)
        if t <= 900.0:
            return 545.0 + 17820.0 / (t - 731.0)
        return 650.0


def _area_and_around(section: Section) -> tuple[float, float]:
    a, b = section.a_mm, section.b_mm
    if section.kind == "round":
        return math.pi * a * a / 4.0, math.pi * a
    if section.kind == "square":
        return a * a, 4.0 * a
    return a * b, 2.0 * (a + b)


def main(words: list[str]) -> None:
    """Print the table."""
    count = int(words[0]) if words else 10_000
    rests = simulate(count)
    out = sys.stdout.write
    for medium in ("still air", "draught", "bed"):
        mine = [rest for rest in rests if rest.medium == medium]
        counted = tally(mine)
        out(f"\n{medium}: {len(mine)} simulated rests\n")
        out(f"{'truth':10}{'ok':>8}{'unsure':>8}{'short':>8}{'skipped':>8}\n")
        for truth in (KEPT, BETWEEN, SKIPPED):
            row = "".join(f"{counted[truth, w]:8d}" for w in ("ok", "unsure", "short", "skipped"))
            out(f"{truth:10}{row}\n")
        out(f"the band is x/: {spread(480.0, medium)} to 480 degC, {spread(45.0, medium)} to 45\n")
    counted = tally(rests)
    furthest = max((r.true_share for r in rests if r.word == "skipped"), default=0.0)
    out(
        f"\nfurthest that a rest called skipped had come down: {furthest:.0%} of the way\n"
        f"kept, called skipped: {counted[KEPT, 'skipped']}   "
        f"skipped, called ok: {counted[SKIPPED, 'ok']}\n"
        f"kept, called short: {counted[KEPT, 'short']}   "
        f"not kept, called ok: {counted[BETWEEN, 'ok'] + counted[SKIPPED, 'ok']}\n"
    )


if __name__ == "__main__":
    main(sys.argv[1:])
