"""Threads by the name that a smith calls them: "M12", "M12 x 1.25", "1/2 UNC", "3/8 BSW"."""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

import math
import re
from functools import lru_cache
from typing import NamedTuple

from forgelog.trade import thread_tables as tables
from forgelog.trade.errors import SumError, positive
from forgelog.units.errors import ReadError, plain
from forgelog.units.scan import tidy

LIKE = 'a thread, like "M12", "M12 x 1.25", "1/2 UNC" or "3/8 BSW"'


class ThreadError(ReadError):
    """A text that is no thread of the tables."""


class Thread(NamedTuple):
    """A thread: its size and pitch, and what follows from them. Lengths in mm."""

    name: str
    """As the tables call it: "M12", "M12 x 1.25", "1/2 UNC"."""
    series: str
    """metric, UNC, UNF, BSW; or UN of an inch size by its pitch alone."""
    size: str
    """The size without pitch: "12" of M12, "1/2" of 1/2 UNC."""
    major_mm: float
    """Outside diameter, basic."""
    pitch_mm: float
    """Along the axis, from one thread to the next."""
    coarse: bool = True
    listed: bool = True
    """False of a size and pitch that no table has: its profile alone is known."""

    @property
    def threads_per_inch(self) -> float:
        """Threads in 25.4 mm."""
        return 25.4 / self.pitch_mm

    @property
    def pitch_diameter_mm(self) -> float:
        """Basic pitch (effective) diameter.

        Source: ISO 724, d - 0.649519 P; ASME B1.1, the same; BS 84, d - 0.640327 P.
        """
        depth = 0.640327 if self.series == "BSW" else 0.75 * math.sqrt(3) / 2
        return self.major_mm - depth * self.pitch_mm

    @property
    def minor_mm(self) -> float:
        """Basic minor diameter of the nut.

        Source: ISO 724 and ASME B1.1, d - 1.082532 P; BS 84, d - 1.280654 P.
        """
        depth = 1.280654 if self.series == "BSW" else 1.25 * math.sqrt(3) / 2
        return self.major_mm - depth * self.pitch_mm

    @property
    def root_mm(self) -> float:
        """Diameter at the root of the bolt.

        Source: ISO 898-1, d - 1.226869 P; ASME B1.1 for UNR, d - 1.190785 P; BS 84.
        """
        depths = {"metric": 17 / 12 * math.sqrt(3) / 2, "BSW": 1.280654}
        return self.major_mm - depths.get(self.series, 1.375 * math.sqrt(3) / 2) * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """Area that carries tension.

        Source: ISO 898-1 9.1.6.1; ASME B1.1, 0.7854 (D - 0.9743 P)^2; of BSW, which has no
        official one, the mean of effective and core diameter.
        """
        if self.series.startswith("UN"):
            return math.pi / 4 * (self.major_mm - 0.9743 * self.pitch_mm) ** 2
        return math.pi / 4 * ((self.pitch_diameter_mm + self.root_mm) / 2) ** 2

    @property
    def tap_drill_mm(self) -> float:
        """The usual drill before the tap.

        Source: ISO 2306; ASME B94.9 practice; BS 1157. A metric fine thread, and any without an
        entry, is size less pitch.
        """
        if self.listed and self.series != "metric":
            return tables.INCH[self.series][self.size].drill_mm
        row = tables.METRIC.get(self.major_mm)
        if self.listed and self.coarse and row is not None and row.drill_mm is not None:
            return row.drill_mm
        return _drill(self.major_mm - self.pitch_mm)

    @property
    def rod_before_die_mm(self) -> float:
        """Diameter that a rod or forged tenon should have before the die: d - 0.1 P.

        Source: workshop rule. Published charts allow a little more: M12 11.84 to 11.92 mm.
        """
        return self.major_mm - 0.1 * self.pitch_mm

    @property
    def nut_across_mm(self) -> float | None:
        """Across flats of a bought hexagon nut, or None where the tables have none."""
        nut = self._nut()
        return nut[0] if nut else None

    @property
    def nut_height_mm(self) -> float | None:
        """Height of a bought hexagon nut, or None where the tables have none."""
        nut = self._nut()
        return nut[1] if nut else None

    @property
    def square_nut_mm(self) -> tuple[float, float] | None:
        """Across flats and height of a bought square nut, or None where the tables have none."""
        if self.series == "metric":
            return tables.METRIC_SQUARE_NUTS_MM.get(self.major_mm)
        return tables.SQUARE_NUTS_MM.get(self.size)

    @property
    def clearance_mm(self) -> tuple[float, float, float] | None:
        """Holes for the bolt, close, medium and coarse, or None where the tables have none.

        Source: ISO 273; ASME B18.2.8, also for BSW.
        """
        if self.series == "metric":
            row = tables.METRIC.get(self.major_mm)
            return row.clearance_mm if row else None
        return tables.INCH_CLEARANCE_MM.get(self.size)

    @property
    def washer_mm(self) -> tuple[float, float, float] | None:
        """Outside, thickness and hole of a plain washer, or None where the tables have none.

        Source: ISO 7089.
        """
        return tables.WASHERS_MM.get(self.major_mm) if self.series == "metric" else None

    def _nut(self) -> tuple[float, float] | None:
        if self.series == "metric":
            row = tables.METRIC.get(self.major_mm)
            return row.nut_mm if row else None
        table = tables.BSW_NUTS_MM if self.series == "BSW" else tables.INCH_NUTS_MM
        return table.get(self.size)


_METRIC = re.compile(r"m ?(\d{1,2}(?:\.\d+)?)(?: ?[x×*-] ?(\d(?:\.\d+)?|\.\d+))?", re.ASCII)


@lru_cache(maxsize=1)
def _inch_pattern() -> re.Pattern[str]:
    # Made when it is first wanted: most shops ask for metric threads alone.
    return re.compile(
        r"""(?:(?P<no>(?:\#|no\.?)\ ?\d{1,2})
            |(?P<size>\d(?:[ -]\d{1,2}/\d{1,2})?|\d{1,2}/\d{1,2}))
            \ ?(?:"|''|in\.?|inch)?
            (?:\ ?[x-]\ ?(?P<tpi>\d{1,2}(?:\.5)?)(?:\ ?tpi)?)?
            (?:\ (?P<series>[a-z]+))?""",
        re.ASCII | re.VERBOSE,
    )


_SERIES = {"unc": "UNC", "unf": "UNF", "bsw": "BSW", "whitworth": "BSW", "whit": "BSW", "w": "BSW"}


@lru_cache(maxsize=256)
def thread(name: str) -> Thread:
    """Look up a thread.

    Args:
        name: "M12", "M12 x 1.25", "1/2 UNC", "1/2-13 UNC", "#10 UNC", "3/8 BSW".

    Raises:
        ThreadError: the tables have no such thread; says what was found and what is near.
    """
    text = tidy(name[:61]).lower()
    if len(name) > 60:
        raise ThreadError(name, "is longer than 60 letters", LIKE)
    if match := _METRIC.fullmatch(text):
        return _metric(name, float(match[1]), float(match[2]) if match[2] else None)
    if match := _inch_pattern().fullmatch(text):
        return _inch(name, match)
    raise ThreadError(name, "is no thread", LIKE)


def special_thread(size_mm: float, pitch_mm: float, *, inch: bool = False) -> Thread:
    """A thread of any size and pitch, as the tables have it or by its profile alone.

    Args:
        size_mm: Outside diameter, mm, > 0.
        pitch_mm: Pitch, mm; below three quarters of what makes the core vanish.
        inch: True for the profile of ASME B1.1 in inches, else that of ISO 68-1.

    Raises:
        SumError: no thread of that pitch goes on that size.
    """
    size, pitch = positive("size", size_mm, "mm"), positive("pitch", pitch_mm, "mm")
    if pitch * 2.5 > size:
        raise SumError(f"a pitch of {pitch:g} mm is too coarse for a size of {size:g} mm")
    row = tables.METRIC.get(size)
    if not inch and row is not None and pitch in (row.pitch_mm, *row.fine_mm):
        return thread(f"M{size:g} x {pitch:g}")
    per_inch = 25.4 / pitch
    name = f"{size / 25.4:.4g} in, {per_inch:.4g} an inch" if inch else f"M{size:g} x {pitch:g}"
    return Thread(
        name=name,
        series="UN" if inch else "metric",
        size=f"{size / 25.4:g}" if inch else f"{size:g}",
        major_mm=size,
        pitch_mm=pitch,
        coarse=False,
        listed=False,
    )


def _metric(name: str, size: float, pitch: float | None) -> Thread:
    row = tables.METRIC.get(size)
    if row is None:
        near = min(tables.METRIC, key=lambda other: abs(other - size))
        raise ThreadError(name, "is not a size of the metric series", LIKE, f"M{near:g}")
    pitches = [p for p in (row.pitch_mm, *row.fine_mm) if p is not None]
    listed = f"M{size:g} x {' or '.join(f'{p:g}' for p in pitches)}"
    if pitch is None and row.pitch_mm is None:
        raise ThreadError(name, "has no coarse pitch", listed, f"M{size:g} x {pitches[0]:g}")
    if pitch is not None and pitch not in pitches:
        raise ThreadError(name, f"has a pitch of {pitch:g} mm", listed)
    coarse = pitch is None or pitch == row.pitch_mm
    return Thread(
        name=f"M{size:g}" if coarse else f"M{size:g} x {pitch:g}",
        series="metric",
        size=f"{size:g}",
        major_mm=size,
        pitch_mm=pitches[0] if pitch is None else pitch,
        coarse=coarse,
    )


def _inch(name: str, match: re.Match[str]) -> Thread:
    if match["no"]:
        size = f"#{re.sub(r'[^0-9]', '', match['no'])}"
    else:
        size = match["size"].replace(" ", "-")
    if size not in tables.INCH_SIZES_MM:
        raise ThreadError(name, "is not a size of the inch series", LIKE)
    series = _SERIES.get(match["series"] or "")
    if match["series"] and series is None:
        raise ThreadError(name, f'is of "{plain(match["series"])}", which is no series here', LIKE)
    per_inch = float(match["tpi"]) if match["tpi"] else None
    if series is None:
        series = _series(name, size, per_inch)
    row = tables.INCH[series].get(size)
    if row is None:
        raise ThreadError(name, f"is not a size of {series}", LIKE)
    if per_inch is not None and per_inch != row.per_inch:
        hint = f"{size} {series}"
        problem = f"has {per_inch:g} threads an inch"
        raise ThreadError(name, problem, f"{row.per_inch:g} for {hint}", hint)
    return Thread(
        name=f"{size} {series}",
        series=series,
        size=size,
        major_mm=tables.INCH_SIZES_MM[size],
        pitch_mm=25.4 / row.per_inch,
        coarse=series != "UNF",
    )


def _series(name: str, size: str, per_inch: float | None) -> str:
    """The one series that a size with so many threads an inch can be of."""
    fits = []
    for series, rows in tables.INCH.items():
        if size in rows and per_inch in (None, rows[size].per_inch):
            fits.append(series)
    if len(fits) != 1:
        choice = " or ".join(f'"{size} {series}"' for series in fits) or LIKE
        raise ThreadError(name, "does not say which series", choice)
    return fits[0]


def _drill(mm: float) -> float:
    """The drill of the set next to a size: tenths from 4 mm up, x.25 down and x.75 up."""
    if mm < 4.0:
        return round(mm * 20) / 20
    tenths = mm * 10
    # 38.0 less 1.5 is 364.99999 tenths as a float
    if abs(tenths - round(tenths)) < 1e-6:
        return round(tenths) / 10
    return (math.floor(tenths) if mm % 1 < 0.5 else math.ceil(tenths)) / 10
