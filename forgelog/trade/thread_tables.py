"""Published sizes of threads and of what is made for them, one row a size.

Sources stand beside each table. "From memory" marks figures that were not read again; those
with a page are M4 to M20 and 1/4 to 3/4 in, and the tests check them.
"""

# Annotations are evaluated here: as texts they would make each record take ten times as long.

from collections.abc import Callable
from typing import Any, NamedTuple

_METRIC = """
1    0.25  0.2             0.75  -    -     1.1   1.2   1.3
1.1  0.25  0.2             0.85  -    -     -     -     -
1.2  0.25  0.2             0.95  -    -     1.3   1.4   1.5
1.4  0.3   0.2             1.1   -    -     1.5   1.6   1.8
1.6  0.35  0.2             1.25  3.2  1.3   1.7   1.8   2
1.8  0.35  0.2             1.45  -    -     2     2.1   2.2
2    0.4   0.25            1.6   4    1.6   2.2   2.4   2.6
2.2  0.45  0.25            1.75  -    -     -     -     -
2.5  0.45  0.35            2.05  5    2     2.7   2.9   3.1
3    0.5   0.35            2.5   5.5  2.4   3.2   3.4   3.6
3.5  0.6   0.35            2.9   6    2.8   3.7   3.9   4.2
4    0.7   0.5             3.3   7    3.2   4.3   4.5   4.8
4.5  0.75  0.5             3.7   -    -     4.8   5     5.3
5    0.8   0.5             4.2   8    4.7   5.3   5.5   5.8
5.5  -     0.5             -     -    -     -     -     -
6    1     0.75            5     10   5.2   6.4   6.6   7
7    1     0.75            6     -    -     7.4   7.6   8
8    1.25  1,0.75          6.8   13   6.8   8.4   9     10
9    1.25  1,0.75          7.8   -    -     -     -     -
10   1.5   1.25,1,0.75     8.5   16   8.4   10.5  11    12
11   1.5   1,0.75          9.5   -    -     -     -     -
12   1.75  1.5,1.25,1      10.2  18   10.8  13    13.5  14.5
14   2     1.5,1.25,1      12    21   12.8  15    15.5  16.5
15   -     1.5,1           -     -    -     -     -     -
16   2     1.5,1           14    24   14.8  17    17.5  18.5
17   -     1.5,1           -     -    -     -     -     -
18   2.5   2,1.5,1         15.5  27   15.8  19    20    21
20   2.5   2,1.5,1         17.5  30   18    21    22    24
22   2.5   2,1.5,1         19.5  34   19.4  23    24    26
24   3     2,1.5,1         21    36   21.5  25    26    28
25   -     2,1.5,1         -     -    -     -     -     -
26   -     1.5             -     -    -     -     -     -
27   3     2,1.5,1         24    41   23.8  28    30    32
28   -     2,1.5,1         -     -    -     -     -     -
30   3.5   3,2,1.5,1       26.5  46   25.6  31    33    35
32   -     2,1.5           -     -    -     -     -     -
33   3.5   3,2,1.5         29.5  50   28.7  34    36    38
35   -     1.5             -     -    -     -     -     -
36   4     3,2,1.5         32    55   31    37    39    42
38   -     1.5             -     -    -     -     -     -
39   4     3,2,1.5         35    60   33.4  40    42    45
40   -     3,2,1.5         -     -    -     -     -     -
42   4.5   4,3,2,1.5       37.5  65   34    43    45    48
45   4.5   4,3,2,1.5       40.5  70   36    46    48    52
48   5     4,3,2,1.5       43    75   38    50    52    56
50   -     3,2,1.5         -     -    -     -     -     -
52   5     4,3,2,1.5       47    80   42    54    56    62
55   -     4,3,2,1.5       -     -    -     -     -     -
56   5.5   4,3,2,1.5       50.5  85   45    58    62    66
58   -     4,3,2,1.5       -     -    -     -     -     -
60   5.5   4,3,2,1.5       54.5  90   48    62    66    70
62   -     4,3,2,1.5       -     -    -     -     -     -
64   6     4,3,2,1.5       58    95   51    66    70    74
"""

_INCH = """
#0    0.060   UNF 80 0.046875
#1    0.073   UNC 64 0.0595    UNF 72 0.0595
#2    0.086   UNC 56 0.070     UNF 64 0.070
#3    0.099   UNC 48 0.0785    UNF 56 0.082
#4    0.112   UNC 40 0.089     UNF 48 0.0935
#5    0.125   UNC 40 0.1015    UNF 44 0.104
#6    0.138   UNC 32 0.1065    UNF 40 0.113
#8    0.164   UNC 32 0.136     UNF 36 0.136
#10   0.190   UNC 24 0.1495    UNF 32 0.159
#12   0.216   UNC 24 0.177     UNF 28 0.182
1/8   0.125   BSW 40 2.55mm
3/16  0.1875  BSW 24 3.7mm
1/4   0.25    UNC 20 0.201     UNF 28 0.213     BSW 20 5.1mm
5/16  0.3125  UNC 18 0.257     UNF 24 0.272     BSW 18 6.5mm
3/8   0.375   UNC 16 0.3125    UNF 24 0.332     BSW 16 7.9mm
7/16  0.4375  UNC 14 0.368     UNF 20 0.390625  BSW 14 9.3mm
1/2   0.5     UNC 13 0.421875  UNF 20 0.453125  BSW 12 10.5mm
9/16  0.5625  UNC 12 0.484375  UNF 18 0.515625  BSW 12 12.1mm
5/8   0.625   UNC 11 0.53125   UNF 18 0.578125  BSW 11 13.5mm
11/16 0.6875  BSW 11 15mm
3/4   0.75    UNC 10 0.65625   UNF 16 0.6875    BSW 10 16.25mm
7/8   0.875   UNC 9 0.765625   UNF 14 0.8125    BSW 9 19.25mm
1     1       UNC 8 0.875      UNF 12 0.921875  BSW 8 22mm
1-1/8 1.125   UNC 7 0.984375   UNF 12 1.046875  BSW 7 24.75mm
1-1/4 1.25    UNC 7 1.109375   UNF 12 1.171875  BSW 7 28mm
1-3/8 1.375   UNC 6 1.21875    UNF 12 1.296875  BSW 6 30.5mm
1-1/2 1.5     UNC 6 1.34375    UNF 12 1.421875  BSW 6 33.5mm
1-5/8 1.625   BSW 5 36mm
1-3/4 1.75    UNC 5 1.5625     BSW 5 39mm
2     2       UNC 4.5 1.78125  BSW 4.5 44.5mm
2-1/4 2.25    UNC 4.5 2.03125
2-1/2 2.5     UNC 4 2.25
2-3/4 2.75    UNC 4 2.5
3     3       UNC 4 2.75
3-1/4 3.25    UNC 4 3
3-1/2 3.5     UNC 4 3.25
3-3/4 3.75    UNC 4 3.5
4     4       UNC 4 3.75
"""

_INCH_NUTS = """
#0    0.15625 0.046875 -     -
#1    0.15625 0.046875 -     -
#2    0.1875 0.0625    -     -
#3    0.1875 0.0625    -     -
#4    0.25   0.09375   -     -
#5    0.3125 0.109375  -     -
#6    0.3125 0.109375  -     -
#8    0.34375 0.125    -     -
#10   0.375  0.125     -     -
#12   0.4375 0.15625   -     -
1/4   0.4375 0.21875   0.445 0.200
5/16  0.5    0.265625  0.525 0.250
3/8   0.5625 0.328125  0.600 0.312
7/16  0.6875 0.375     0.710 0.375
1/2   0.75   0.4375    0.820 0.437
9/16  0.875  0.484375  0.920 0.500
5/8   0.9375 0.546875  1.010 0.562
3/4   1.125  0.640625  1.200 0.687
7/8   1.3125 0.75      1.300 0.750
1     1.5    0.859375  1.480 0.875
1-1/8 1.6875 0.96875   1.670 1.000
1-1/4 1.875  1.0625    1.860 1.125
1-3/8 2.0625 1.171875  -     -
1-1/2 2.25   1.28125   2.220 1.375
1-3/4 -      -         2.580 1.625
2     -      -         2.760 1.750
"""

_INCH_HOLES = """
#0    0.067    0.076    0.094
#1    0.081    0.089    0.104
#2    0.094    0.102    0.116
#3    0.106    0.116    0.128
#4    0.120    0.128    0.144
#5    0.141    0.156    0.172
#6    0.154    0.170    0.185
#8    0.180    0.194    0.213
#10   0.206    0.221    0.238
1/4   0.265625 0.28125  0.296875
5/16  0.328125 0.34375  0.359375
3/8   0.390625 0.40625  0.421875
7/16  0.453125 0.46875  0.484375
1/2   0.53125  0.5625   0.609375
5/8   0.65625  0.6875   0.734375
3/4   0.78125  0.8125   0.90625
7/8   0.90625  0.9375   1.03125
1     1.03125  1.09375  1.15625
1-1/8 1.15625  1.21875  1.3125
1-1/4 1.28125  1.34375  1.4375
1-3/8 1.4375   1.5      1.609375
1-1/2 1.5625   1.625    1.734375
"""

_WASHERS = """
4  9  0.8 4.3
5  10 1   5.3
6  12 1.6 6.4
8  16 1.6 8.4
10 20 2   10.5
12 24 2.5 13
14 28 2.5 15
16 30 3   17
20 37 3   21
24 44 4   25
30 56 4   31
36 66 5   37
"""


_SQUARE_NUTS = """
1/4   0.4375 0.21875
5/16  0.5625 0.265625
3/8   0.625  0.328125
7/16  0.75   0.375
1/2   0.8125 0.4375
5/8   1      0.546875
3/4   1.125  0.65625
7/8   1.3125 0.765625
1     1.5    0.875
1-1/8 1.6875 1
1-1/4 1.875  1.09375
1-3/8 2.0625 1.203125
1-1/2 2.25   1.3125
"""


class MetricRow(NamedTuple):
    """One size of the metric series, mm."""

    pitch_mm: float | None
    """Source: ISO 261, coarse; None of a size that is fine alone."""
    fine_mm: tuple[float, ...]
    """Source: ISO 261, fine (from memory)."""
    drill_mm: float | None
    """Source: ISO 2306, coarse."""
    nut_mm: tuple[float, float] | None
    """Across flats and largest height. Source: ISO 4032 style 1."""
    clearance_mm: tuple[float, float, float] | None
    """Close, medium, coarse. Source: ISO 273."""


class InchRow(NamedTuple):
    """One size of an inch series."""

    per_inch: float
    """Threads an inch. Source: ASME B1.1; BS 84."""
    drill_mm: float
    """Source: ASME B94.9 practice; BS 1157."""


def _rows(text: str) -> list[list[str]]:
    return [line.split() for line in text.split("\n") if line]


def _number(text: str) -> float | None:
    return None if text == "-" else float(text)


def _metric() -> dict[float, MetricRow]:
    rows = {}
    for size, pitch, fine, drill, across, high, *holes in _rows(_METRIC):
        close, medium, coarse = holes
        rows[float(size)] = MetricRow(
            pitch_mm=_number(pitch),
            fine_mm=tuple(float(one) for one in fine.split(",")),
            drill_mm=_number(drill),
            nut_mm=(float(across), float(high)) if across != "-" else None,
            clearance_mm=(float(close), float(medium), float(coarse)) if close != "-" else None,
        )
    return rows


def _inch() -> dict[str, dict[str, InchRow]]:
    table: dict[str, dict[str, InchRow]] = {"UNC": {}, "UNF": {}, "BSW": {}}
    for size, _, *series in _rows(_INCH):
        for name, per_inch, drill in zip(series[::3], series[1::3], series[2::3], strict=True):
            metric = drill.endswith("mm")
            table[name][size] = InchRow(
                per_inch=float(per_inch),
                drill_mm=float(drill[:-2]) if metric else float(drill) * 25.4,
            )
    return table


def _pairs(column: int) -> dict[str, tuple[float, float]]:
    rows = [(row[0], row[column], row[column + 1]) for row in _rows(_INCH_NUTS)]
    return {size: (float(a) * 25.4, float(b) * 25.4) for size, a, b in rows if a != "-"}


METRIC: dict[float, MetricRow]
"""Rows by size in mm."""

INCH_SIZES_MM: dict[str, float]
"""Outside diameter by the name of the size."""

INCH: dict[str, dict[str, InchRow]]
"""Rows by series and size."""

INCH_NUTS_MM: dict[str, tuple[float, float]]
"""Hexagon, across flats and height. Source: ASME B18.2.2."""

BSW_NUTS_MM: dict[str, tuple[float, float]]
"""Hexagon, across flats and height. Source: BS 1083 (from memory)."""

INCH_CLEARANCE_MM: dict[str, tuple[float, float, float]]
"""Close, medium, coarse. Source: ASME B18.2.8 (from memory)."""

WASHERS_MM: dict[float, tuple[float, float, float]]
"""Plain washers: outside, thickness, hole. Source: ISO 7089 (M6 to M12 read)."""

SQUARE_NUTS_MM: dict[str, tuple[float, float]]
"""Square nuts of inch sizes, across flats and height. Source: ASME B18.2.2 table 2 (1/4 to 1/2 and
3/4 read, the others from memory)."""

METRIC_SQUARE_NUTS_MM = {
    5.0: (8.0, 4.0),
    6.0: (10.0, 5.0),
    8.0: (13.0, 6.5),
    10.0: (17.0, 8.0),
    12.0: (19.0, 10.0),
    16.0: (24.0, 13.0),
    20.0: (30.0, 16.0),
}
"""Square nuts, across flats and height. Source: DIN 557 (M10 and M20 from memory)."""


def _clearances() -> dict[str, tuple[float, float, float]]:
    return {
        size: (float(close) * 25.4, float(medium) * 25.4, float(coarse) * 25.4)
        for size, close, medium, coarse in _rows(_INCH_HOLES)
    }


def _washers() -> dict[float, tuple[float, float, float]]:
    return {
        float(size): (float(outside), float(thick), float(hole))
        for size, outside, thick, hole in _rows(_WASHERS)
    }


def _square_nuts() -> dict[str, tuple[float, float]]:
    return {
        size: (float(across) * 25.4, float(high) * 25.4)
        for size, across, high in _rows(_SQUARE_NUTS)
    }


_MADE: dict[str, Callable[[], Any]] = {
    "METRIC": _metric,
    "INCH_SIZES_MM": lambda: {row[0]: float(row[1]) * 25.4 for row in _rows(_INCH)},
    "INCH": _inch,
    "INCH_NUTS_MM": lambda: _pairs(1),
    "BSW_NUTS_MM": lambda: _pairs(3),
    "INCH_CLEARANCE_MM": _clearances,
    "WASHERS_MM": _washers,
    "SQUARE_NUTS_MM": _square_nuts,
}


def __getattr__(name: str) -> Any:
    """A table, made when it is first asked for: most shops ask for few of them."""
    if name not in _MADE:
        raise AttributeError(f"there is no table {name}")
    made = globals()[name] = _MADE[name]()
    return made
