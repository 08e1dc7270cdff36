"""Random small recipes, as a smith could have written them, for orders that are worked through.

`recipe_text` writes the TOML; `small_recipe` reads and resolves it. Both take a `random.Random`, so
a seed names an order; `recipes` is the same for hypothesis.
"""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

from forgelog.recipe.read import read_recipe
from forgelog.recipe.resolve import resolve
from forgelog.recipe.resolved import Recipe

NAMES = (
    *(
        "strap",
        "pintle",
        "hook",
        "leaf",
        "bar",
        "arm",
        "foot",
        "collar",
        "staple",
        "drift",
        "chisel",
    ),
    "long-handled flesh fork with a twist and a ring",
)
MARKS = (("left", "right"), ("upper", "lower"), ("A", "B", "C"))
BARS = ("12 mm square", "40 x 8 mm flat", "16 mm round", "25 mm square", "6 mm square")
VERBS = (
    *("draw the taper", "roll the eye", "set down the shoulder", "twist", "bend it on the jig"),
    *(
        "spread the leaf",
        "punch the hole",
        "square up the corner that is to show",
        "point",
        "upset",
    ),
)
TOOLS = ("16 mm mandrel", "hook jig", "side set", "swage", "monkey tool")
COLD = (("drill", "bench"), ("file the edges", "bench"), ("try it in the plate", "fit"))
ENDS = ("black", "hand-warm", "cold", "10 min", "3 min", "300 degC")
PLACES = ("still air", "still air", "still air", "draught", "ash", "sand", "fire")


class _Steps:
    """The steps of one component, as they are written."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.rows: list[str] = []
        self.names: dict[str, int] = {}
        self.last = ""

    def add(self, do: str, *lines: str, kind: str = "") -> None:
        number = self.names[do] = self.names.get(do, 0) + 1
        again = f" again, time {number}" if number > 1 else ""
        row = [f'  [[component.step]]\n  do = "{do}{again}"']
        if kind:
            row.append(f'  kind = "{kind}"')
        self.rows.append("\n".join([*row, *(f"  {line}" for line in lines)]))
        self.last = kind

    def chance(self, share: float) -> bool:
        return self.rng.random() < share

    def forge(self, *, follows: bool = False) -> None:
        rng = self.rng
        planned = [f"hand = {rng.choice((1, 1, 2, 3))}"]
        if self.chance(0.4):
            planned.append(f"power = {rng.choice((1, 1, 2))}")
        lines = [f"heats = {{ {', '.join(planned)} }}"]
        if follows:
            lines.append("follows = true")
        if self.chance(0.6):
            lines.append(f'work = "{rng.choice((1150, 1100, 1000))} degC to 850 degC"')
        if self.chance(0.3):
            lines.append(f'tools = ["{rng.choice(TOOLS)}"]')
            lines.append('jigs = [{ name = "bending jig", setting = "stop at {60 mm}" }]')
        if self.chance(0.3):
            lines.append('done = "it is done as the drawing has it"')
        if self.chance(0.2):
            lines.append('gauge = [{ what = "length", size = "80 mm", plus = "1 mm" }]')
        self.add(rng.choice(VERBS), *lines, kind="forge")

    def rest(self) -> None:
        rng = self.rng
        lines = [f'until = "{rng.choice(ENDS)}"', f'in = "{rng.choice(PLACES)}"']
        if self.chance(0.4):
            lines.append('skipping = "matters"')
        self.add("rest", f'id = "rest-{len(self.rows)}"', *lines, kind="rest")

    def gauge(self) -> None:
        what = f"size {len(self.rows) + 1}"
        lines = [] if self.chance(0.2) else [f'gauge = [{{ what = "{what}", size = "12 mm" }}]']
        self.add(f"gauge {what}", *lines, kind="gauge")

    def cold(self) -> None:
        do, kind = self.rng.choice(COLD)
        lines = ['minutes = "4 min"'] if self.chance(0.6) else []
        if self.chance(0.3):
            lines.append(f'tools = ["{self.rng.choice(TOOLS)}"]')
        self.add(do, *lines, kind=kind)

    def treated(self) -> None:
        """A run of heat treatment, whole or in part."""
        if self.chance(0.6):
            until = ['until = "black"'] if self.chance(0.5) else []
            cycles = [f"cycles = {self.rng.choice((2, 3))}"] if self.chance(0.5) else []
            self.add("normalise", 'at = "870 degC"', *until, *cycles, kind="normalise")
        if self.chance(0.2):
            self.add("anneal", 'at = "780 degC"', kind="anneal")
        if self.chance(0.3):
            self.cold()
        if self.chance(0.8):
            quench = self.rng.choice(("oil", "water"))
            self.add("harden", 'at = "820 degC"', f'quench = "{quench}"', kind="harden")
            if self.chance(0.2):
                self.gauge()
            if self.chance(0.9):
                cycles = ["cycles = 2"] if self.chance(0.2) else []
                soak = ['soak = "40 min"'] if self.chance(0.5) else []
                self.add("temper", 'at = "220 degC"', *soak, *cycles, kind="temper")

    def body(self, most: int) -> None:
        """Forging with all that can stand between."""
        if self.chance(0.08):
            self.rest()
        if self.chance(0.3):
            self.cold()
        for _ in range(self.rng.randint(1, most)):
            self.forge()
            while self.last == "forge" and self.chance(0.25):
                self.forge(follows=True)
            while self.chance(0.35):
                self.rest()
            if self.chance(0.2):
                self.gauge()
            if self.chance(0.15):
                self.cold()

    def tail(self) -> None:
        if self.chance(0.25):
            self.add("oil", kind="finish")
        if self.chance(0.15):
            self.rest()


def recipe_text(rng: Random, name: str = "order-of-chance") -> str:
    """A small recipe of one to four components, as a smith would write it."""
    parts = rng.choice((1, 1, 1, 1, 2, 3))
    steel = "mild"
    rows: list[str] = []
    made: list[tuple[str, int]] = []
    for title in rng.sample(NAMES, parts):
        steps = _Steps(rng)
        lot = steps.chance(0.12)
        lines, each = _head(rng, title, f"part-{len(made) + 1}", lot=lot)
        if lot:
            _few(steps)
        else:
            steps.body(1 if parts > 1 else 2)
            if steps.chance(0.2):
                steps.treated()
                steel = rng.choice(("1045", "1045", "unknown"))
        steps.tail()
        rows += [*lines, *steps.rows]
        made.append((f"part-{len(made) + 1}", each))
    if parts > 1 or rng.random() < 0.25:
        rows += _assembly(rng, made, "whole")
        if rng.random() < 0.2:
            rows += _assembly(rng, [("whole", 1)], "set")
    head = f'format = 1\nid = "{name}"\nname = "Order of chance"\nsteel = "{steel}"\n'
    return head + "\n".join(rows) + "\n"


def _head(rng: Random, title: str, ident: str, *, lot: bool) -> tuple[list[str], int]:
    lines = ["\n[[component]]", f'id = "{ident}"', f'name = "{title}"']
    each = rng.choice((1, 1, 1, 2, 3))
    if lot:
        each = rng.choice((2, 3))
        lines.append("lot = true")
    elif rng.random() < 0.3:
        marks = rng.choice(MARKS)
        each = len(marks) * rng.choice((1, 1, 2)) if len(marks) == 2 else len(marks)
        key = rng.choice(("hands", "variant"))
        quoted = ", ".join(f'"{mark}"' for mark in marks)
        lines.append(f"{key} = [{quoted}]")
    lines.append(f"each = {each}")
    if rng.random() < 0.9:
        lines.append(f'stock = {{ section = "{rng.choice(BARS)}" }}')
        lines.append('form = [{ solid = "round", across = "12 mm", long = "200 mm" }]')
    return lines, each


def _few(steps: _Steps) -> None:
    """What is done to a handful of small parts."""
    if steps.chance(0.7):
        steps.forge()
    if steps.chance(0.5):
        steps.cold()
    if not steps.rows or steps.chance(0.2):
        steps.rest()
        steps.cold()


def _assembly(rng: Random, made: list[tuple[str, int]], ident: str) -> list[str]:
    rows = ["\n[[component]]", f'id = "{ident}"', f'name = "{ident} piece"']
    twice = all(each % 2 == 0 for _, each in made) and rng.random() < 0.5
    rows.append(f"each = {2 if twice else 1}")
    needs = []
    for name, each in made:
        share = each // 2 if twice else each
        count = rng.randint(1, share)
        needs.append(f'{{ component = "{name}", count = {count} }}')
    rows.append(f"needs = [{', '.join(needs)}]")
    steps = _Steps(rng)
    if steps.chance(0.3):
        steps.forge()
        if steps.chance(0.4):
            steps.rest()
    steps.add("put it together", kind="fit")
    steps.tail()
    return rows + steps.rows


def small_recipe(rng: Random, name: str = "order-of-chance") -> Recipe:
    """A small recipe at its default sizes."""
    text = recipe_text(rng, name)
    written, problems = read_recipe(text.encode(), name)
    assert written is not None, (problems, text)
    return resolve(written)


def recipes() -> st.SearchStrategy[Recipe]:
    """Small recipes for hypothesis."""
    return st.randoms(use_true_random=False).map(small_recipe)
