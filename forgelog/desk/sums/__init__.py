"""The sums of the trade by name, for the shell and for the screen.

One module holds a small family of sums: each its fields in the smith's words and a function that
asks `forgelog.trade` and names what comes out. A module is loaded only when a sum of it is asked.
To add a sum, write it in a module and name it in `SUMS`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from forgelog.desk.sums.asking import Sum

SUMS = {
    "bar": ("bars", "area, outline and mass of a bar"),
    "weight": ("bars", "what a piece of bar weighs, or how long a weight of it is"),
    "stock": ("stock", "how long to cut a bar for a finished form"),
    "becomes": ("stock", "how long a piece becomes when it is drawn to another section"),
    "upset": ("stock", "bar that a head or bulge takes, and whether it buckles"),
    "ring": ("bends", "bar in a ring"),
    "eye": ("bends", "bar in an eye"),
    "bend": ("bends", "bar in bends and legs"),
    "scroll": ("bends", "bar in a scroll"),
    "twist": ("bends", "bar in a twist, a basket or a spring"),
    "collar": ("bends", "bar in a collar round a bundle"),
    "thread": ("threads", "sizes, drill, rod, nut and limits of a thread"),
    "engage": ("joints", "how much thread must engage, and what fails first"),
    "nut": ("joints", "whether a forged blank is enough for a nut"),
    "through": ("joints", "length of a bolt through a post, and where its thread begins"),
    "hot": ("heat", "hot size of a cold one, and back"),
    "cool": ("heat", "how long a bar takes to cool"),
    "window": ("heat", "seconds of work in a heat"),
    "rest": ("heat", "whether a rest was long enough"),
    "heat": ("heat", "how long a bar takes to come to heat"),
    "heats": ("work", "a rough first guess at the heats of a piece of work"),
    "blow": ("work", "energy of a hammer's blow"),
    "fuel": ("work", "fuel of a session, and heat in the steel"),
    "steel": ("steels", "heats, changes and hardness of a steel"),
    "colour": ("colours", "what a heat looks like, and back"),
    "temper-colour": ("colours", "the colour of a temper, and back"),
    "convert": ("measures", "a measure in other units"),
    "gauge": ("measures", "sheet and wire gauges, drills, fractions of an inch"),
}
"""Every sum: the module that holds it and its line of help."""


def find_sum(name: str) -> Sum:
    """The sum of this name.

    Raises:
        CannotSum: there is none; says which is near.
    """
    from importlib import import_module

    from forgelog.desk.sums.asking import CannotSum
    from forgelog.recipe.plain import did_you_mean, quoted

    known = SUMS.get(name) or SUMS.get(name.lower().replace("_", "-").replace("color", "colour"))
    if known is None:
        hint = did_you_mean(name, SUMS)
        words = f"there is no sum {quoted(name)}; there are {', '.join(SUMS)}"
        raise CannotSum(f"{words}\n    {hint}" if hint else words)
    module = import_module(f"forgelog.desk.sums.{known[0]}")
    wanted = next(key for key, value in SUMS.items() if value is known)
    found: Sum = next(one for one in module.SUMS if one.name == wanted)
    return found
