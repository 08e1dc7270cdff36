"""Recipe files that somebody made to do harm, or that were damaged on the way. Seeded."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

SOUND = [
    path.read_bytes() for path in sorted((Path(__file__).parents[2] / "recipes").glob("*.toml"))
]

HEAD = 'format = 1\nid = "{id}"\nname = "{name}"\nlicence = "CC0-1.0"\n'
STEP = (
    '[[component]]\nid = "{id}"\nname = "{name}"\n'
    'stock = {{ section = "{section}", cut = "{cut}" }}\n'
    '[[component.step]]\ndo = "{do}"\nheats = {{ hand = {heats} }}\nsays = "{says}"\n'
)

SIGNS = (
    "\\u202e",
    "\\u2066",
    "\\u200b",
    "\\u0000",
    "\\u001b[2J",
    "\\u001b]0;x\\u0007",
    "\\u009b31m",
    "\\u0430dmin",
    "A\\u0301\\u0301\\u0301\\u0301\\u0301\\u0301\\u0301",
    "\\uFEFF",
    "\\U000E0041",
    "[red]x[/red]",
    "[/]",
    "[@click=app.quit]go[/]",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "{{7*7}}",
    "{% raw %}",
    "${HOME}",
    "`id`",
    "%s%n%x",
    "../../../../etc/passwd",
    "C:\\\\\\\\con",
    "file:///etc/passwd",
    "\\r\\nSet-Cookie: x",
    "'; DROP TABLE steps; --",
)
"""Texts that mean something to a terminal, a page, a template, a shell or a path."""

IDS = ("../x", "a/b", "con", "nul", ".", "..", "\\u0430bc", "a" * 41, "-x", "A", "x.toml", "x\\n")
"""What an id might be, to become a path."""

HUGE = ("1e308", "9" * 400, "-9223372036854775809", "1e99999", "nan", "inf", "0x" + "f" * 300)


def hostile_file(random: Random) -> bytes:
    """One hostile file, whatever the chance gives."""
    make: Callable[[Random], bytes | str] = random.choice(KINDS)
    made = make(random)
    return made if isinstance(made, bytes) else made.encode("utf-8", "surrogatepass")


def _fields(random: Random) -> dict[str, str]:
    return {
        "id": "wall-hook",
        "name": "Wall hook",
        "section": "12 mm square",
        "cut": "200 mm",
        "do": "draw the point",
        "heats": "2",
        "says": "Draw it out.",
    }


def _signs(random: Random) -> str:
    fields = _fields(random)
    for key in random.sample(("name", "do", "says"), 2):
        fields[key] = "".join(random.choice(SIGNS) for _ in range(random.randint(1, 4)))
    return (HEAD + STEP).format(**fields)


def _plain_signs(random: Random) -> str:
    """Signs that may stand in a recipe, so that it is taken, and shown."""
    fields = _fields(random)
    allowed = [
        sign for sign in SIGNS if "\\u" not in sign and "\\r" not in sign and "{" not in sign
    ]
    for key in ("name", "do", "says"):
        fields[key] = random.choice(allowed)
    return (HEAD + STEP).format(**fields)


def _ids(random: Random) -> str:
    return (HEAD + STEP).format(**{**_fields(random), "id": random.choice(IDS)})


def _huge(random: Random) -> str:
    number = random.choice(HUGE)
    fields = _fields(random)
    key = random.choice(("heats", "cut", "section"))
    fields[key] = {"heats": number, "cut": f"{number} mm", "section": f"{number} mm square"}[key]
    return (HEAD + STEP).format(**fields)


def _long(random: Random) -> str:
    length = random.choice((2_001, 50_000, 240_000, 300_000))
    fields = _fields(random)
    fields[random.choice(("name", "do", "says", "cut"))] = random.choice("x {(+") * length
    return (HEAD + STEP).format(**fields)


def _deep(random: Random) -> str:
    depth = random.choice((20, 500, 20_000))
    shape = random.choice(("list", "table", "dotted", "header"))
    text = HEAD.format(**_fields(random))
    if shape == "list":
        return text + "x = " + "[" * depth + "]" * depth
    if shape == "table":
        return text + "x = " + "{a = " * depth + "1" + "}" * depth
    if shape == "dotted":
        return text + ".".join(["a"] * depth) + " = 1"
    return text + "[" + ".".join(["a"] * depth) + "]\n"


def _bomb(random: Random) -> str:
    """Sums that grow: long chains, deep parentheses, sizes that name each other."""
    text = HEAD.format(**_fields(random))
    kind = random.choice(("chain", "deep", "circle", "powers", "prose"))
    cut = "100 mm"
    if kind == "circle":
        names = [f"size_{n}x" for n in range(random.randint(2, 40))]
        for name, other in zip(names, [*names[1:], names[0]], strict=True):
            text += f'[sizes.{name}]\ndefault = "{other} + {other}"\nmost = "{other}"\n'
        cut = names[0]
    elif kind == "chain":
        cut = " + ".join(["1 mm"] * random.choice((20, 40, 400)))
    elif kind == "deep":
        cut = "(" * 90 + "1 mm" + ")" * random.choice((89, 90, 91))
    elif kind == "powers":
        cut = random.choice(("9**9**9 mm", "1 mm * 1e308 * 1e308", "10 mm / 0", "1 mm / (2 - 2)"))
    says = "{1 mm + " * 200 + "}" * 200 if kind == "prose" else "Draw it out."
    return text + STEP.format(**{**_fields(random), "cut": cut, "says": says})


def _circle(random: Random) -> str:
    """Components that need each other."""
    names = [f"part-{n}" for n in range(random.randint(1, 60))]
    text = HEAD.format(**_fields(random))
    for name, other in zip(names, [*names[1:], names[0]], strict=True):
        text += f'[[component]]\nid = "{name}"\nname = "{name}"\nneeds = ["{other}"]\n'
    return text


def _many(random: Random) -> str:
    """More of everything than anybody needs."""
    text = HEAD.format(**_fields(random))
    count = random.choice((101, 400))
    kind = random.choice(("component", "step", "size", "key", "evidence"))
    if kind == "component":
        return text + "".join(f'[[component]]\nid = "c{n}"\nname = "c"\n' for n in range(count))
    if kind == "size":
        return text + "".join(f'[sizes.s_{n}x]\ndefault = "{n} mm"\n' for n in range(count))
    if kind == "key":
        return text + "".join(f"k{n} = {n}\n" for n in range(count * 10))
    text += STEP.format(**_fields(random))
    if kind == "step":
        return text + '[[component.step]]\ndo = "rest"\nuntil = "black"\n' * count
    row = '[[evidence.steps]]\ncomponent = "wall-hook"\nstep = "{}"\npieces = 9\n'
    return text + "".join(row.format(f"step-{n}") for n in range(count * 6))


def _evidence(random: Random) -> str:
    """Records that are no records."""
    text = (HEAD + STEP).format(**_fields(random))
    text += f'[shared]\nprocess = "{random.choice(("0" * 16, "x", "f" * 400))}"\n'
    text += f'by = "{random.choice(SIGNS)}"\non = "{random.choice(("2026-01-01", "..", ""))}"\n'
    text += f'[[evidence.steps]]\ncomponent = "{random.choice(IDS)}"\n'
    text += f'step = "{random.choice(SIGNS)}"\npieces = {random.choice((*HUGE, "3", "-1"))}\n'
    return text


def _twice(random: Random) -> str:
    line = random.choice(('id = "x"', "format = 2", 'name = "y"', "[sizes]", "component = 3"))
    return (HEAD + STEP).format(**_fields(random)) + line + "\n" + line + "\n"


def _encodings(random: Random) -> bytes:
    data = random.choice(SOUND)
    text = data.decode()
    return random.choice(
        (
            text.encode("utf-16"),
            text.encode("utf-32"),
            text.replace("a", "ä").encode("latin-1"),
            b"\xef\xbb\xbf" + data,
            data.replace(b"\n", b"\r"),
            data.replace(b" ", b"\0", 3),
            data.replace(b"e", b"\xed\xa0\x80", 2),
            b"\xc0\xaf" + data,
            b"\x1f\x8b\x08" + data,
            b"",
            b"\0" * 3000,
        )
    )


def _damaged(random: Random) -> bytes:
    """A sound recipe with some bytes changed, lost, doubled or cut off."""
    data = bytearray(random.choice(SOUND))
    for _ in range(random.randint(1, 12)):
        at = random.randrange(len(data))
        deed = random.randrange(5)
        if deed == 0:
            data[at] = random.randrange(256)
        elif deed == 1:
            del data[at : at + random.randint(1, 30)]
        elif deed == 2:
            data[at:at] = data[at : at + random.randint(1, 60)]
        elif deed == 3:
            data[at:at] = random.choice(b'"[]{}=.#\n\\+-').to_bytes(1, "big")
        else:
            del data[at + 2000 :]
        if not data:
            break
    return bytes(data)


def _spliced(random: Random) -> bytes:
    """Lines of two recipes in one."""
    one, other = (random.choice(SOUND).splitlines(keepends=True) for _ in range(2))
    at, to = random.randrange(len(one)), random.randrange(len(other))
    return b"".join([*one[:at], *other[to:]])


KINDS: tuple[Callable[[Random], bytes | str], ...] = (
    _signs,
    _plain_signs,
    _ids,
    _huge,
    _long,
    _deep,
    _bomb,
    _circle,
    _many,
    _evidence,
    _twice,
    _encodings,
    _damaged,
    _damaged,
    _spliced,
)
