"""Recipes and TOML texts for property tests."""

from __future__ import annotations

import string
from typing import Any

import msgspec
from hypothesis import strategies as st

from forgelog.recipe import written as w
from forgelog.recipe import written_evidence as e
from forgelog.recipe.process import process_hash
from forgelog.recipe.slugs import step_slugs

LINE = st.text(
    st.characters(categories=("L", "N", "P", "S", "Zs"), exclude_characters="{}"), max_size=40
)
"""A line of words as anybody may write it, in any script."""

words = LINE.filter(lambda text: bool(text.strip()))
prose = st.lists(LINE, max_size=3).map("\n".join)

lengths = st.one_of(
    st.integers(1, 400).map(lambda n: f"{n} mm"),
    st.sampled_from(["1/2 in", "1 1/8 in", "1-1/8 in", '3/8"', "2 ft 3 in", "1.25 m"]),
)
temperatures = st.one_of(
    st.integers(700, 1300).map(lambda n: f"{n} degC"), st.just("1600 degF"), st.just("900 °C")
)
times = st.sampled_from(["90 s", "10 min", "1 h 20 min"])
sections = st.one_of(
    st.integers(3, 80).map(lambda n: f"{n} mm square"),
    st.integers(3, 80).map(lambda n: f"{n} mm round"),
    st.tuples(st.integers(20, 80), st.integers(3, 19)).map(lambda s: f"{s[0]} x {s[1]} mm flat"),
)
ids = st.from_regex(r"[a-z][a-z0-9-]{0,12}", fullmatch=True)
size_names = st.from_regex(r"[a-z]{3,8}_[a-z0-9]{1,4}", fullmatch=True)

solids = st.one_of(
    st.builds(
        w.WrittenSolid,
        solid=st.sampled_from(["square", "round", "octagon", "hexagon", "cone"]),
        across=lengths,
        long=lengths,
        times=st.integers(1, 4),
    ),
    st.builds(
        w.WrittenSolid,
        solid=st.sampled_from(["flat", "leaf"]),
        wide=lengths,
        thick=lengths,
        long=lengths,
    ),
    st.builds(w.WrittenSolid, solid=st.just("bar"), section=sections, long=lengths),
    st.builds(w.WrittenSolid, solid=st.just("rod for thread"), thread=st.just("M12"), long=lengths),
)

heats = st.builds(w.WrittenHeats, hand=st.integers(1, 40), power=st.none() | st.integers(1, 40))

_tools = st.lists(
    words | st.builds(w.WrittenTool, name=words, setting=st.none().map(lambda _: "")), max_size=2
)

_steps = st.one_of(
    st.fixed_dictionaries(
        {"do": st.sampled_from(["draw down", "upset", "bend", "twist"]), "heats": heats},
        optional={
            "work": st.just("1150 degC to 850 degC"),
            "says": prose,
            "watch": prose,
            "tools": _tools,
            "to": st.builds(w.WrittenTarget, section=sections, long=lengths),
        },
    ),
    st.fixed_dictionaries(
        {"do": st.just("rest"), "until": st.sampled_from(["black", "hand-warm", "10 min"])},
        optional={"medium": st.sampled_from(["ash", "sand"]), "why": prose},
    ),
    st.fixed_dictionaries(
        {"do": st.just("normalise"), "at": temperatures, "cycles": st.integers(1, 4)}
    ),
    st.fixed_dictionaries(
        {"do": st.sampled_from(["file", "drill", "fit", "gauge", "finish"])},
        optional={
            "minutes": times,
            "recover": prose,
            "gauge": st.lists(
                st.builds(w.WrittenGauge, what=words, size=lengths, plus=st.just("0.5 mm")),
                max_size=2,
            ),
        },
    ),
)


@st.composite
def steps(draw: st.DrawFn) -> list[w.WrittenStep]:
    """Steps of a component, each with an id of its own."""
    made = draw(st.lists(_steps, max_size=5))
    return [w.WrittenStep(**{**step, "id": f"step-{n}"}) for n, step in enumerate(made)]


@st.composite
def evidence(draw: st.DrawFn, parts: list[tuple[str, str]]) -> e.WrittenEvidence:
    """What somebody's records may say of these steps: pairs of component and step."""
    pieces = st.integers(1, 90)
    of = st.sampled_from(parts).map(lambda part: {"component": part[0], "step": part[1]})
    taken = st.tuples(st.integers(1, 5), st.integers(0, 3), st.integers(0, 9)).map(
        lambda n: e.WrittenHeatsTaken(least=n[0], middle=n[0] + n[1], most=n[0] + n[1] + n[2])
    )

    def rows(cls: type[Any], **more: Any) -> st.SearchStrategy[list[Any]]:
        made = st.builds(lambda of, more: cls(**of, **more), of, st.fixed_dictionaries(more))
        return st.lists(made, max_size=4, unique_by=lambda row: (row.component, row.step))

    ways = st.sampled_from(["hand", "striker", "power", "press"])
    steps = rows(e.WrittenTaken, by=ways, pieces=pieces, heats=st.none() | taken)
    return e.WrittenEvidence(
        steps=draw(steps),
        rests=draw(rows(e.WrittenRested, pieces=st.just(9), kept=st.integers(0, 9))),
        spoilt=draw(rows(e.WrittenSpoilt, why=st.sampled_from(["burnt", "lost"]), pieces=pieces)),
    )


@st.composite
def recipes(draw: st.DrawFn) -> w.WrittenRecipe:
    """Recipes without an error, in any script; not all without doubts."""
    sizes = draw(
        st.dictionaries(
            size_names, st.builds(w.WrittenSize, default=lengths, says=prose), max_size=3
        )
    )
    cut = st.sampled_from([f"{name} + 10 mm" for name in sizes] or ["120 mm"])
    stock = st.builds(w.WrittenStock, section=sections, cut=st.none() | cut)
    components = []
    for name in draw(st.lists(ids, min_size=1, max_size=3, unique=True)):
        marks = draw(st.sampled_from([[], ["left", "right"], ["upper", "middle", "lower"]]))
        components.append(
            w.WrittenComponent(
                id=name,
                name=draw(words),
                each=max(1, len(marks)) * draw(st.integers(1, 3)),
                hands=marks,
                stock=draw(stock),
                form=draw(st.lists(solids, max_size=3)),
                step=draw(steps()),
            )
        )
    return w.WrittenRecipe(
        format=1,
        id=draw(ids),
        name=draw(words),
        says=draw(prose),
        revision=draw(st.integers(1, 99) | words),
        steel=draw(st.sampled_from(["mild", "1045", "unknown"])),
        sizes=sizes,
        component=components,
        bought=[
            w.WrittenBought(
                id=f"bought-{n}",
                name=draw(words),
                each=draw(st.integers(1, 200)),
                says=draw(prose),
                component=draw(st.none() | st.sampled_from([c.id for c in components])),
                mass=draw(st.none() | st.sampled_from(["90 g", "1 lb 2 oz"])),
            )
            for n in range(draw(st.integers(0, 2)))
        ],
    )


@st.composite
def shared_recipes(draw: st.DrawFn) -> w.WrittenRecipe:
    """Recipes as they come from another smith: with a checksum, and with evidence."""
    recipe = draw(recipes())
    parts = [
        (component.id, slug)
        for component in recipe.component
        for step in component.step
        for slug in step_slugs(step)
    ]
    shared = e.WrittenShared(process=process_hash(recipe), by=draw(st.none() | words))
    found = draw(evidence(parts)) if parts else None
    return msgspec.structs.replace(recipe, shared=shared, evidence=found)


class TomlText:
    """A TOML text as it grows, with the line of every key path, known by having written it."""

    def __init__(self, newline: str) -> None:
        self.newline = newline
        self.parts: list[str] = []
        self.line = 1
        self.lines: dict[tuple[str | int, ...], int] = {}

    def write(self, text: str) -> None:
        self.parts.append(text.replace("\n", self.newline))
        self.line += text.count("\n")

    def mark(self, path: tuple[str | int, ...], *, again: bool = False) -> None:
        if again or path not in self.lines:
            self.lines[path] = self.line

    @property
    def text(self) -> str:
        return "".join(self.parts)


_LETTERS = string.ascii_letters + string.digits + "_-"
_NOISE = ["# [not.a.table]", "", "   ", "\t# key = 1"]
_SCALARS = [
    "1",
    "-3.5e2",
    "true",
    "inf",
    "1979-05-27T07:32:00Z",
    "1979-05-27 07:32:00",
    '"plain"',
    '"with # [sign] = and \\" quote"',
    "'literal \\ # ] }'",
    '"""one line"""',
    '"""\nseveral = 1\n[[lines]] # no\n"""',
    '"""ends in quotes"""""',
    "'''\nraw ''\n[x]\n'''",
    '"""folded \\\n   here"""',
    '"\\u00e9\\n"',
]


@st.composite
def toml_texts(draw: st.DrawFn) -> TomlText:
    """TOML that the standard reader takes, in all its spellings, with the line of each key."""
    out = TomlText(draw(st.sampled_from(["\n", "\r\n"])))
    count = 0

    def fresh() -> str:
        nonlocal count
        count += 1
        return f"k{count}_" + draw(st.text(_LETTERS, max_size=3))

    def spelt(key: str) -> str:
        return draw(st.sampled_from([key, f'"{key}"', f"'{key}'", f'"\\u006b{key[1:]}"']))

    def dotted(start: tuple[str | int, ...], keys: list[str], *, header: bool) -> Any:
        path = start
        row = []
        for key in keys:
            path = (*path, key)
            out.mark(path)
            row.append(spelt(key))
        out.write(draw(st.sampled_from([".", " . "])).join(row) if not header else ".".join(row))
        return path

    def noise() -> None:
        for line in draw(st.lists(st.sampled_from(_NOISE), max_size=2)):
            out.write(line + "\n")

    def pair(start: tuple[str | int, ...], depth: int, *, inline: bool) -> None:
        keys = [fresh() for _ in range(draw(st.integers(1, 2)))]
        path = dotted(start, keys, header=False)
        out.write(draw(st.sampled_from([" = ", "=", "\t=  "])))
        value(path, depth, inline=inline)

    def value(path: tuple[str | int, ...], depth: int, *, inline: bool) -> None:
        kind = draw(st.sampled_from(["scalar"] * 3 + (["array", "table"] if depth < 3 else [])))
        if kind == "scalar":
            scalars = [s for s in _SCALARS if not (inline and "\n" in s)]
            out.write(draw(st.sampled_from(scalars)))
        elif kind == "array":
            array(path, depth, inline=inline)
        else:
            out.write("{ ")
            for number in range(draw(st.integers(0, 2))):
                out.write(", " if number else "")
                pair(path, depth + 1, inline=True)
            out.write(" }")

    def array(path: tuple[str | int, ...], depth: int, *, inline: bool) -> None:
        gap = st.sampled_from(["", " "] if inline else ["", " ", "\n", "\n  # , ] no\n  "])
        count = draw(st.integers(0, 3))
        out.write("[" + draw(gap))
        for number in range(count):
            out.mark((*path, number))
            value((*path, number), depth + 1, inline=inline)
            last = number == count - 1
            out.write(draw(gap))
            out.write("" if last and draw(st.booleans()) else ",")
            out.write(draw(gap))
        out.write("]")

    def body(path: tuple[str | int, ...]) -> None:
        for _ in range(draw(st.integers(0, 3))):
            noise()
            out.write(draw(st.sampled_from(["", "  ", "\t"])))
            pair(path, 0, inline=False)
            out.write(draw(st.sampled_from(["\n", "  # end = 1\n", " \n"])))

    body(())
    arrays: list[tuple[str, int]] = []
    for _ in range(draw(st.integers(0, 4))):
        noise()
        kind = draw(st.sampled_from(["table", "new array", "again", "inside"]))
        if kind == "again" and arrays and (last := arrays[-1]):
            arrays[-1] = (last[0], last[1] + 1)
            path: tuple[str | int, ...] = (*last,)
            path = (last[0], last[1] + 1)
            out.mark(path)
            out.write(f"[[{spelt(last[0])}]]")
        elif kind == "inside" and arrays:
            key = fresh()
            path = (*arrays[-1], key)
            out.mark(path)
            out.write(f"[ {spelt(arrays[-1][0])} . {spelt(key)} ]")
        elif kind == "new array":
            key = fresh()
            arrays.append((key, 0))
            path = (key, 0)
            out.mark((key,))
            out.mark(path)
            out.write(f"[[ {spelt(key)} ]]")
        else:
            out.write("[")
            path = dotted((), [fresh() for _ in range(draw(st.integers(1, 3)))], header=True)
            out.mark(path, again=True)
            out.write("]")
        out.write(draw(st.sampled_from(["\n", " # heading\n"])))
        body(path)
    return out
