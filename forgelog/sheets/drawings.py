"""Line drawings for paper: sections of bar to scale, and the simple forms of a finished piece.

Each is one SVG element, in millimetres of paper, black on white. The only words in it are figures
of our own making and are escaped all the same.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from html import escape

from forgelog.desk.job_told import FormPart
from forgelog.sheets.blocks import Drawing
from forgelog.trade.sections import Section
from forgelog.trade.solids import Dim

WIDEST_MM = 40.0
"""Of a section on paper; a larger one is drawn smaller, and says so."""
THICK_MM = 0.5
"""Of lines."""
FORM_LONG_MM, FORM_HIGH_MM = 165.0, 24.0
SCALES = (1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0)


def draw_section(section: Section, words: str) -> Drawing | None:
    """A section as it looks from its end, true to size where there is room.

    Args:
        section: Of a bar; a sheet has no outline and is not drawn.
        words: Its size in the shop's units.

    Returns:
        None where there is nothing to draw.
    """
    wide, high = _outline(section)
    if not wide:
        return None
    scale = next((s for s in SCALES if max(wide, high) / s <= WIDEST_MM), SCALES[-1])
    pad = 1.5
    w, h = wide / scale, high / scale
    size = f"{w + 2 * pad:.2f}mm", f"{h + 2 * pad:.2f}mm"
    shape = _shape(section, pad, pad, 1 / scale)
    true = "full size" if scale == 1.0 else f"1 to {scale:g}"
    svg = (
        f'<svg class="section" width="{size[0]}" height="{size[1]}" '
        f'viewBox="0 0 {w + 2 * pad:.2f} {h + 2 * pad:.2f}" role="img">{shape}</svg>'
    )
    return Drawing(svg=svg, words=f"{words} ({true})")


def draw_form(parts: Sequence[FormPart]) -> Drawing | None:
    """The simple forms of a finished piece laid out in a row, all to one scale.

    Args:
        parts: In the recipe's order; holes and forms that have no outline are left out.

    Returns:
        None where nothing can be drawn.
    """
    shown = [(number, *size) for number, part in enumerate(parts, 1) if (size := _extent(part))]
    if not shown:
        return None
    gap, pad, letters = 4.0, 1.0, 5.0
    long = sum(length for _, length, _ in shown)
    high = max(height for _, _, height in shown)
    room = FORM_LONG_MM - gap * (len(shown) - 1) - 2 * pad
    if room < 20.0:
        return None
    scale = next((s for s in SCALES if long / s <= room and high / s <= FORM_HIGH_MM), 0.0)
    if not scale:
        return None
    x, middle = pad, letters + high / scale / 2 + pad
    drawn: list[str] = []
    for number, length, _ in shown:
        wide = length / scale
        drawn.append(_form_shape(parts[number - 1], x, middle, scale))
        drawn.append(
            f'<text x="{x + wide / 2:.2f}" y="{letters - 1:.2f}" font-size="4" '
            f'text-anchor="middle">{number}</text>'
        )
        x += wide + gap
    width, height = x - gap + pad, letters + high / scale + 2 * pad
    svg = (
        f'<svg class="form" width="{width:.2f}mm" height="{height:.2f}mm" '
        f'viewBox="0 0 {width:.2f} {height:.2f}" role="img">{"".join(drawn)}</svg>'
    )
    true = "full size" if scale == 1.0 else f"1 to {scale:g}"
    return Drawing(svg=svg, words=f"The finished forms in a row, unbent ({true}):")


def draw_bar(long_mm: float, ends_mm: Sequence[float], words: str) -> Drawing | None:
    """A bar from its side with the ends of the pieces that are sawn off it, numbered from the left.

    Args:
        long_mm: Length of the bar.
        ends_mm: The far end of each piece, in order, from the zero end.
        words: What bar it is.

    Returns:
        None where there is no bar.
    """
    if not long_mm > 0:
        return None
    high, letters = 8.0, 4.5
    scale = FORM_LONG_MM / long_mm
    drawn = [f'<rect x="0.5" y="{letters}" width="{FORM_LONG_MM:.2f}" height="{high}" {_LINE}/>']
    start = 0.0
    for number, end in enumerate(ends_mm, 1):
        x = 0.5 + min(end, long_mm) * scale
        drawn.append(f'<path d="M{x:.2f} {letters - 1}V{letters + high + 1}" {_LINE}/>')
        if (end - start) * scale > 5.0:
            middle = 0.5 + (start + end) / 2 * scale
            drawn.append(
                f'<text x="{middle:.2f}" y="{letters + high / 2 + 1.5:.2f}" font-size="4" '
                f'text-anchor="middle">{number}</text>'
            )
        start = end
    width, height = FORM_LONG_MM + 1, letters + high + 2
    svg = (
        f'<svg class="bar" width="{width:.2f}mm" height="{height:.2f}mm" '
        f'viewBox="0 0 {width:.2f} {height:.2f}" role="img">{"".join(drawn)}</svg>'
    )
    return Drawing(svg=svg, words=words)


def line_of_mm(mm: float) -> str:
    """A line of a known length, to see whether the page was printed at full size."""
    return (
        f'<svg class="rule" width="{mm + 1:.2f}mm" height="4mm" viewBox="0 0 {mm + 1:.2f} 4">'
        f'<path d="M0.5 0.5V3.5M0.5 2H{mm + 0.5:.2f}M{mm + 0.5:.2f} 0.5V3.5" {_LINE}/></svg>'
    )


_LINE = f'fill="none" stroke="#000" stroke-width="{THICK_MM}"'


def _outline(section: Section) -> tuple[float, float]:
    a, b = section.a_mm, section.b_mm
    match section.kind:
        case "sheet":
            return 0.0, 0.0
        case "flat" | "angle":
            return a, b
        case "hexagon":
            return a * 2 / math.sqrt(3), a
        case _:
            return a, a


def _shape(section: Section, x: float, y: float, scale: float) -> str:
    """The outline of a section with its corner at x, y."""
    wide, high = (mm * scale for mm in _outline(section))
    match section.kind:
        case "round":
            return _circle(x + wide / 2, y + high / 2, wide / 2)
        case "tube":
            outer, inner = wide / 2, wide / 2 - section.b_mm * scale
            return _circle(x + outer, y + outer, outer) + _circle(x + outer, y + outer, inner)
        case "hexagon" | "octagon":
            sides = 6 if section.kind == "hexagon" else 8
            turn = 0.0 if sides == 6 else math.pi / 8
            radius = wide / 2 if sides == 6 else high / 2 / math.cos(math.pi / 8)
            points = [
                (
                    x + wide / 2 + radius * math.cos(turn + 2 * math.pi * i / sides),
                    y + high / 2 + radius * math.sin(turn + 2 * math.pi * i / sides),
                )
                for i in range(sides)
            ]
            return _polygon(points)
        case "angle":
            c = section.c_mm * scale
            return _polygon(
                [
                    (x, y),
                    (x + c, y),
                    (x + c, y + high - c),
                    (x + wide, y + high - c),
                    (x + wide, y + high),
                    (x, y + high),
                ]
            )
        case _:
            return f'<rect x="{x:.2f}" y="{y:.2f}" width="{wide:.2f}" height="{high:.2f}" {_LINE}/>'


def _circle(x: float, y: float, radius: float) -> str:
    return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{max(0.0, radius):.2f}" {_LINE}/>'


def _polygon(points: Sequence[tuple[float, float]]) -> str:
    joined = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
    return f'<polygon points="{escape(joined)}" {_LINE}/>'


def _extent(part: FormPart) -> tuple[float, float] | None:
    """How long and how high a form is, seen from the side."""
    dims = part.dims
    long = _mm(dims.get("long"))
    match part.solid:
        case "hole":
            return None
        case "ball":
            across = _mm(dims.get("across"))
            return (across, across) if across else None
        case "ring" | "eye":
            outside = _outside(dims)
            return (outside, outside) if outside else None
        case "rod for thread":
            from forgelog.trade.threads import thread

            name = dims.get("thread")
            if not isinstance(name, str) or not long:
                return None
            return long, thread(name).rod_before_die_mm
        case "taper":
            ends = _high(dims.get("start")), _high(dims.get("end"))
            return (long, max(ends)) if long and max(ends) else None
    high = _high(dims.get("section")) or _mm(dims.get("across")) or _mm(dims.get("wide"))
    return (long, high) if long and high else None


def _form_shape(part: FormPart, x: float, middle: float, scale: float) -> str:
    extent = _extent(part)
    assert extent is not None
    long, high = extent[0] / scale, extent[1] / scale
    top, bottom, end = middle - high / 2, middle + high / 2, x + long
    match part.solid:
        case "ball":
            return _circle(x + long / 2, middle, long / 2)
        case "ring" | "eye":
            bar = _high(part.dims.get("section")) / scale
            inner = long / 2 - min(bar, long / 2)
            return _circle(x + long / 2, middle, long / 2) + _circle(x + long / 2, middle, inner)
        case "taper":
            a = _high(part.dims.get("start")) / scale / 2
            b = _high(part.dims.get("end")) / scale / 2
            corners = [(x, middle - a), (end, middle - b), (end, middle + b), (x, middle + a)]
            return _polygon(corners)
        case "point" | "cone":
            return _polygon([(x, top), (end, middle), (x, bottom)])
        case "leaf":
            curve = (
                f"M{x:.2f} {middle:.2f}Q{x + long / 2:.2f} {middle - high:.2f} {end:.2f} "
                f"{middle:.2f}Q{x + long / 2:.2f} {middle + high:.2f} {x:.2f} {middle:.2f}Z"
            )
            return f'<path d="{curve}" {_LINE}/>'
    return f'<rect x="{x:.2f}" y="{top:.2f}" width="{long:.2f}" height="{high:.2f}" {_LINE}/>'


def _mm(dim: Dim | None) -> float:
    return float(dim) if isinstance(dim, int | float) and math.isfinite(dim) and dim > 0 else 0.0


def _high(dim: Dim | None) -> float:
    """How high a section stands when its wider side is seen."""
    return max(_outline(dim)) if isinstance(dim, Section) else 0.0


def _outside(dims: Mapping[str, Dim]) -> float:
    bar = dims.get("section")
    thick = min(_outline(bar)) if isinstance(bar, Section) else 0.0
    if outside := _mm(dims.get("outside")):
        return outside
    if inside := _mm(dims.get("inside")):
        return inside + 2 * thick
    centre = _mm(dims.get("centre_line"))
    return centre + thick if centre else 0.0
