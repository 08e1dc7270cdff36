"""Small recipes for tests of the floor, all invented."""

from __future__ import annotations

from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.recipe.resolved import Recipe

HEAD = """
format = 1
id = "test-piece"
name = "Test piece"
says = "Invented for a test."
licence = "CC0-1.0"
"""

HOOK = """
[[component]]
id = "hook"
name = "hook"
each = 2
stock = { section = "12 mm square" }
form = [{ solid = "square", across = "12 mm", long = "200 mm" }]

  [[component.step]]
  do = "draw the point"
  done = "the point is drawn"
  heats = { hand = 2, power = 1 }
  work = "1150 degC to 850 degC"

  [[component.step]]
  do = "bend the hook"
  done = "the hook is bent"
  heats = { hand = 1 }
  work = "1100 degC to 850 degC"

  [[component.step]]
  do = "rest"
  until = "black"
  why = "to look for cracks"

  [[component.step]]
  do = "gauge the hook"
  done = "it fits"
  gauge = [{ what = "drop", size = "80 mm", plus = "1 mm", minus = "1 mm" }]

  [[component.step]]
  do = "file the tip"
  kind = "bench"
  done = "the tip is filed"
  minutes = "10 min"
"""

PUNCH = """
[[component]]
id = "punch"
name = "punch"
each = 2
stock = { section = "16 mm round" }
form = [{ solid = "round", across = "16 mm", long = "150 mm" }]

  [[component.step]]
  do = "taper the punch"
  done = "it is tapered"
  heats = { hand = 1 }
  work = "1050 degC to 850 degC"

  [[component.step]]
  do = "normalise"
  done = "it is normalised"
  at = "870 degC"
  cycles = 2
  skipping = "matters"

  [[component.step]]
  do = "harden the tip"
  done = "the tip is hard"
  kind = "harden"
  at = "820 degC"
  quench = "oil"

  [[component.step]]
  do = "temper the tip"
  done = "the tip is tempered"
  kind = "temper"
  at = "250 degC"
"""


def recipe(*components: str, head: str = HEAD, steel: str = "mild") -> Recipe:
    """A resolved recipe of these components."""
    text = head + f'steel = "{steel}"\n' + "".join(components)
    written, problems = read_recipe(text.encode(), "test.toml")
    errors = [p for p in problems if p.severity == "error"]
    assert not errors, errors
    assert written is not None
    return resolve(written)


def hooks(each: int = 2) -> Recipe:
    """Hooks: two forging steps, a rest, a gauge, a bench step."""
    return recipe(HOOK.replace("each = 2", f"each = {each}"))


def punches(each: int = 2) -> Recipe:
    """Punches of carbon steel: forged, normalised twice, hardened, tempered."""
    return recipe(PUNCH.replace("each = 2", f"each = {each}"), steel="1045")
