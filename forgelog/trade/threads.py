"""Threads by the name that a smith calls them: "M12", "M12 x 1.25", "1/2 UNC", "3/8 BSW"."""

from __future__ import annotations

import math
import re
from functools import lru_cache

import msgspec

from forgelog.trade import thread_tables as tables
from forgelog.units import ReadError, plain, tidy

LIKE = 'a thread, like "M12", "M12 x 1.25", "1/2 UNC" or "3/8 BSW"'


class ThreadError(ReadError):
    """A text that is no thread of the tables."""


class Thread(msgspec.Struct, frozen=True, kw_only=True):
    """A thread: its size and pitch, and what follows from them. Lengths in mm."""

    name: str
    """As the tables call it: "M12", "M12 x 1.25", "1/2 UNC"."""
    series: str
    """metric, UNC, UNF or BSW."""
    size: str
    """The size without pitch: "12" of M12, "1/2" of 1/2 UNC."""
    major_mm: float
    """Outside diameter, basic."""
    pitch_mm: float
    """Along the axis, from one thread to the next."""
    coarse: bool = True

    @property
    def threads_per_inch(self) -> float:
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
        if self.series in ("UNC", "UNF"):
            return math.pi / 4 * (self.major_mm - 0.9743 * self.pitch_mm) ** 2
        return math.pi / 4 * ((self.pitch_diameter_mm + self.root_mm) / 2) ** 2

    @property
    def tap_drill_mm(self) -> float:
        """The usual drill before the tap.

        Source: ISO 2306; ASME B94.9 practice; BS 1157. A metric fine thread, and any without an
        entry, is size less pitch.
        """
        if self.series != "metric":
            return tables.INCH[self.series][self.size].drill_mm
        if self.coarse:
            return tables.METRIC[self.major_mm].drill_mm
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
    def clearance_mm(self) -> tuple[float, float, float] | None:
        """Holes for the bolt, close, medium and coarse, or None where the tables have none.

        Source: ISO 273; ASME B18.2.8, also for BSW.
        """
        if self.series == "metric":
            return tables.METRIC[self.major_mm].clearance_mm
        return tables.INCH_CLEARANCE_MM.get(self.size)

    @property
    def washer_mm(self) -> tuple[float, float, float] | None:
        """Outside, thickness and hole of a plain washer, or None where the tables have none.

        Source: ISO 7089.
        """
        return tables.WASHERS_MM.get(self.major_mm) if self.series == "metric" else None

    def _nut(self) -> tuple[float, float] | None:
        if self.series == "metric":
            return tables.METRIC[self.major_mm].nut_mm
        table = tables.BSW_NUTS_MM if self.series == "BSW" else tables.INCH_NUTS_MM
        return table.get(self.size)


_METRIC = re.compile(r"m ?(\d{1,2}(?:\.\d+)?)(?: ?[x×*-] ?(\d(?:\.\d+)?))?", re.ASCII)
_INCH = re.compile(
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
    if match := _INCH.fullmatch(text):
        return _inch(name, match)
    raise ThreadError(name, "is no thread", LIKE)


def _metric(name: str, size: float, pitch: float | None) -> Thread:
    row = tables.METRIC.get(size)
    if row is None:
        near = min(tables.METRIC, key=lambda other: abs(other - size))
        raise ThreadError(name, "is not a size of the metric series", LIKE, f"M{near:g}")
    if pitch is not None and pitch != row.pitch_mm and pitch not in row.fine_mm:
        pitches = " or ".join(f"{p:g}" for p in (row.pitch_mm, *row.fine_mm))
        raise ThreadError(name, f"has a pitch of {pitch:g} mm", f"M{size:g} x {pitches}")
    coarse = pitch is None or pitch == row.pitch_mm
    return Thread(
        name=f"M{size:g}" if coarse else f"M{size:g} x {pitch:g}",
        series="metric",
        size=f"{size:g}",
        major_mm=size,
        pitch_mm=row.pitch_mm if pitch is None else pitch,
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
    """The drill of the tenth-of-a-mm set next to a size; x.25 goes down below 8 mm, x.75 up."""
    tenths = mm * 10
    return (math.floor(tenths) if mm % 1 < 0.5 else math.ceil(tenths)) / 10
