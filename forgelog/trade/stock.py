"""How long a bar must be cut for a finished form."""

from __future__ import annotations

from forgelog.trade.errors import SumError, positive
from forgelog.trade.sections import Section, area_mm2, perimeter_mm

LOSS = 0.04
"""Share lost as scale where nothing is known. Source: teaching texts give 2 to 6 %."""

KERF_MM = 2.0
"""Width of a saw cut, common practice; a hot cut has none."""


def blank_length_mm(
    form_mm3: float,
    section: Section,
    *,
    trim_mm: float = 0.0,
    trim_mm3: float = 0.0,
    loss: float = LOSS,
    grip_mm: float = 0.0,
) -> float:
    """Length of bar to cut, mm. The kerf of the saw comes on top, once a piece.

    Volume is kept but for scale, so what scales is what is heated: form and trim. The grip is
    held in the tongs, not worked, and cut off afterwards.

    Args:
        form_mm3: Volume of the finished form, mm3, > 0.
        section: The bar.
        trim_mm: Length cut off the worked end, in bar as it is bought. mm.
        trim_mm3: The same as a volume, where that is known instead. mm3.
        loss: Share lost as scale, 0 to 0.3.
        grip_mm: Length for the tongs. mm.

    Raises:
        SumError: a size or the loss cannot be.
        SectionError: the bar has no area.
    """
    positive("volume of the form", form_mm3, "mm3")
    if not 0 <= loss <= 0.3:
        raise SumError(f"the loss is {loss:g}; it must be from 0 to 0.3 of the whole")
    for name, size in (("trim", trim_mm), ("trim", trim_mm3), ("grip", grip_mm)):
        if not 0 <= size < float("inf"):
            raise SumError(f"the {name} is {size:g}; it must be 0 or more")
    area = area_mm2(section)
    return ((form_mm3 + trim_mm3) / area + trim_mm) / (1 - loss) + grip_mm


def scale_loss(section: Section, depth_mm: float = 0.1) -> float:
    """Share of a bar that scale takes when it eats in by a depth: more of a thin bar.

    Args:
        section: The bar.
        depth_mm: How deep the scale has eaten, mm; 0.1 is an example, not a measurement.

    Source:
        Geometry: depth x outline / area.
    """
    return depth_mm * perimeter_mm(section) / area_mm2(section)


def becomes_mm(long_mm: float, before: Section, after: Section, loss: float = 0.0) -> float:
    """Length that a length of one bar has when it is drawn down or upset to another, mm.

    Raises:
        SumError: the length or the loss cannot be.
    """
    positive("length", long_mm, "mm")
    if not 0 <= loss < 1:
        raise SumError(f"the loss is {loss:g}; it must be from 0 to less than 1")
    return long_mm * (1 - loss) * area_mm2(before) / area_mm2(after)


def scale_mm3(
    form_mm3: float, section: Section, *, trim_mm: float = 0.0, loss: float = LOSS
) -> float:
    """Volume that a blank loses as scale, mm3: the share of form and trim that is heated.

    Args:
        form_mm3: Volume of the finished form, mm3, > 0.
        section: The bar.
        trim_mm: Length cut off the worked end, mm.
        loss: Share lost as scale, 0 to 0.3.

    Raises:
        SumError: a size or the loss cannot be.
    """
    long = blank_length_mm(form_mm3, section, trim_mm=trim_mm, loss=loss)
    return long * area_mm2(section) * loss


def stock_for_mm(long_mm: float, before: Section, after: Section, loss: float = 0.0) -> float:
    """Length of one bar that a length of another needs, mm: `becomes_mm` turned round.

    Raises:
        SumError: the length or the loss cannot be.
    """
    positive("length", long_mm, "mm")
    if not 0 <= loss < 1:
        raise SumError(f"the loss is {loss:g}; it must be from 0 to less than 1")
    return long_mm * area_mm2(after) / area_mm2(before) / (1 - loss)


def cut_of_other_bar_mm(
    cut_mm: float, planned: Section, actual: Section, grip_mm: float = 0.0
) -> float:
    """Length to cut of the bar that lies there, where a length of another has proved itself, mm.

    The grip stays as it is; the rest keeps its volume, so 12.7 mm square is cut shorter than 12.

    Args:
        cut_mm: The length that has proved itself, of the planned bar, mm.
        planned: The recipe's bar.
        actual: The bar that is used.
        grip_mm: Length for the tongs within the cut, mm.

    Raises:
        SumError: a length cannot be, or the grip takes all of it.
        SectionError: a bar has no area.

    Source:
        Volume is kept.
    """
    if not 0 <= grip_mm < positive("cut", cut_mm, "mm"):
        raise SumError(f"a grip of {grip_mm:g} mm leaves nothing of a cut of {cut_mm:g} mm")
    return (cut_mm - grip_mm) * area_mm2(planned) / area_mm2(actual) + grip_mm
