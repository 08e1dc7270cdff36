"""What hypothesis draws for quantities and the trade."""

from __future__ import annotations

from hypothesis import strategies as st

from forgelog.trade.sections import Section

lengths_mm = st.one_of(
    st.floats(min_value=0.0, max_value=1e7, allow_nan=False).filter(lambda x: x == 0 or x >= 1e-12),
    st.integers(min_value=0, max_value=12000).map(float),
    st.integers(min_value=1, max_value=32 * 240).map(lambda n: n * 25.4 / 32),
)
"""Lengths of any size that is believed, many of them such as smiths use."""

sizes_mm = st.one_of(
    st.integers(min_value=3, max_value=150).map(float),
    st.integers(min_value=8, max_value=200).map(lambda n: n * 25.4 / 32),
    st.floats(min_value=0.5, max_value=400.0, allow_nan=False),
)
"""Sides and diameters of bar."""


@st.composite
def sections(draw: st.DrawFn) -> Section:
    """Any section that can be made."""
    kind = draw(
        st.sampled_from(["square", "round", "flat", "hexagon", "octagon", "sheet", "angle", "tube"])
    )
    a = draw(sizes_mm)
    if kind == "flat":
        return Section(kind=kind, a_mm=a, b_mm=a * draw(st.floats(0.05, 1.0)))
    if kind == "tube":
        return Section(kind=kind, a_mm=a, b_mm=a * draw(st.floats(0.02, 0.49)))
    if kind == "angle":
        b = draw(sizes_mm)
        return Section(kind=kind, a_mm=a, b_mm=b, c_mm=min(a, b) * draw(st.floats(0.05, 0.9)))
    return Section(kind=kind, a_mm=a)


solid_bars = st.builds(
    Section, kind=st.sampled_from(["square", "round", "octagon", "hexagon"]), a_mm=sizes_mm
)
"""Bars that are described by one size."""
