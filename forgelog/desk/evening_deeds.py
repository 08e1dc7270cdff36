"""What is told in the evening, written down: fuel, where pieces lie, how cut lengths came out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from forgelog.desk.clock import Clock
from forgelog.desk.errors import CannotDo
from forgelog.desk.evening import evening, fuel_words
from forgelog.desk.evening_told import CutAsked, FuelAsked
from forgelog.desk.shop import Shop
from forgelog.desk.writing import write_down
from forgelog.units import parse_mass
from forgelog.work.facts import CutProved, FuelUsed, Stowed
from forgelog.work.state import State

MOST_KG = 1000.0
"""No session burns more, and no bottle weighs more."""


def tell_bottle(
    shop: Shop,
    asked: FuelAsked,
    before_kg: float,
    after_kg: float,
    *,
    clock: Clock | None = None,
) -> State:
    """Write down what the bottle weighed before the session and after it.

    Args:
        shop: The book, opened just now; open it again afterwards.
        asked: Which session and fire.
        before_kg: With the bottle itself. kg.
        after_kg: The same. kg.
        clock: Of this machine where None.

    Raises:
        CannotDo: the bottle is no lighter than before, or the disk does not take it.
    """
    if not 0.0 <= after_kg < before_kg <= MOST_KG:
        raise CannotDo("the bottle must weigh less after the session than before it")
    burnt = FuelUsed(
        session=asked.session,
        kg=round(before_kg - after_kg, 4),
        fire=asked.fire,
        fire_kind=asked.kind,
        before_kg=before_kg,
        after_kg=after_kg,
    )
    return write_down(shop, burnt, clock=clock)


def tell_fuel(shop: Shop, asked: FuelAsked, kg: float, *, clock: Clock | None = None) -> State:
    """Write down what the session burnt.

    Args:
        shop: The book, opened just now; open it again afterwards.
        asked: Which session and fire.
        kg: Of gas, coke or charcoal. > 0.
        clock: Of this machine where None.

    Raises:
        CannotDo: it cannot be so much, or the disk does not take it.
    """
    if not 0.0 < kg <= MOST_KG:
        raise CannotDo("the fuel that was burnt weighs more than nothing, and less than a tonne")
    burnt = FuelUsed(session=asked.session, kg=kg, fire=asked.fire, fire_kind=asked.kind)
    return write_down(shop, burnt, clock=clock)


def stow(shop: Shop, workpieces: Iterable[str], where: str, *, clock: Clock | None = None) -> State:
    """Write down where pieces lie.

    Args:
        shop: The book, opened just now; open it again afterwards.
        workpieces: Their ids.
        where: In the smith's words.
        clock: Of this machine where None.

    Raises:
        CannotDo: one is in the fire or in the hand, or the disk does not take it.
    """
    facts = [Stowed(workpiece=one, where=where) for one in workpieces]
    return write_down(shop, *facts, clock=clock)


def prove_cut(shop: Shop, asked: CutAsked, over_mm: float, *, clock: Clock | None = None) -> State:
    """Write down how a cut length came out.

    Args:
        shop: The book, opened just now; open it again afterwards.
        asked: What was cut.
        over_mm: How much of the bar was too much; below 0 for short; 0 for right. mm of the bar.
        clock: Of this machine where None.

    Raises:
        CannotDo: nothing would be left to cut, or the disk does not take it.
    """
    if asked.cut_mm - over_mm <= 0.0:
        raise CannotDo("it cannot have come out longer than all that was cut")
    proved = CutProved(
        recipe=asked.recipe,
        component=asked.component,
        cut_mm=asked.cut_mm,
        over_mm=over_mm,
        section=asked.section,
        asked_mm=asked.asked_mm,
        worked_for=asked.order,
    )
    return write_down(shop, proved, clock=clock)


def told_in_words(
    shop: Shop,
    burnt: str | None,
    bottle: Sequence[str] | None,
    *,
    clock: Clock | None = None,
) -> str:
    """Write down the fuel of the last session, as it is written in the shell.

    Args:
        shop: The book, opened just now.
        burnt: What was burnt, as "12 kg"; None where the bottle is told.
        bottle: Its weight before and after.
        clock: Of this machine where None.

    Returns:
        A line that says what is written down now.

    Raises:
        CannotDo: there was no session, both or neither are told, or it cannot be.
        UnitError: a text is no mass.
    """
    asked = evening(shop, clock=clock).fuel
    if asked is None:
        raise CannotDo("nobody has been at the fire yet: there is no fuel to tell of")
    if burnt and bottle:
        raise CannotDo("say what was burnt, or what the bottle weighed, not both")
    if bottle:
        before_kg, after_kg = (parse_mass(text) for text in bottle)
        state = tell_bottle(shop, asked, before_kg, after_kg, clock=clock)
    else:
        state = tell_fuel(shop, asked, parse_mass(burnt or ""), clock=clock)
    words = fuel_words(state.fuel[asked.session], shop.settings.shop.units)
    return f"{asked.fire}: {words}"
