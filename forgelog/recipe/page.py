"""The page for smiths: how to write a recipe, with every key, made from the format itself."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from msgspec import inspect

from forgelog.recipe.expected import wanted
from forgelog.recipe.fields import fields_of
from forgelog.recipe.heats import UNTIL
from forgelog.recipe.kinds import KEYS_OF
from forgelog.recipe.plain import listed
from forgelog.recipe.resolved import KINDS
from forgelog.recipe.written import (
    WrittenBought,
    WrittenComponent,
    WrittenGauge,
    WrittenHeats,
    WrittenNeed,
    WrittenRecipe,
    WrittenSize,
    WrittenSolid,
    WrittenStep,
    WrittenStock,
    WrittenTarget,
    WrittenTool,
)
from forgelog.recipe.written_evidence import (
    WrittenHeatsTaken,
    WrittenRested,
    WrittenShared,
    WrittenSpoilt,
    WrittenTaken,
)
from forgelog.recipe.written_words import (
    Heat,
    Id,
    Length,
    Mass,
    Minutes,
    Prose,
    SectionText,
    WorkRange,
)
from forgelog.trade.cautions import CAUTIONS
from forgelog.trade.solids import SOLIDS

FIRST_RECIPE = """\
format = 1
id = "wall-hook"
name = "Wall hook"
[[component]]
id = "hook"
name = "hook"
stock = { section = "10 mm square", cut = "180 mm" }
[[component.step]]
do = "draw the point"
heats = { hand = 2 }
"""
"""A whole recipe, as short as one can be."""

_HEAD = f"""\
# How to write a recipe

A recipe is a plain text file that ends in `.toml`. It says what the pieces are made from and
what is done to them, heat by heat, in the order of the work. Any text editor will do.

This page is made from the format itself (`forgelog schema --page`); a test keeps it in step.

## A first recipe

Ten lines are a whole recipe:

```toml
{FIRST_RECIPE}```

Look it over with

    forgelog check wall-hook.toml

and print it as a process sheet with

    forgelog show wall-hook.toml

`check` says everything that is wrong at once, each with its line, and what it takes instead.
It ends with 0 when nothing is wrong, 1 when there are errors, 2 when a file cannot be read.
Warnings are doubts: what may be right but is worth a second look. `--strict` makes them count.

## How it is written

- `key = value`, one a line. What stands after `#` is for people.
- Words, lengths, heats and times stand in quotes: `cut = "180 mm"`. Whole numbers do not.
- `[[component]]` begins a component, `[[component.step]]` its next step. Keys that stand above
  the first heading belong to the whole recipe.
- Several keys of one thing go in braces on one line: `heats = {{ hand = 3, power = 2 }}`.
- Long words go between three quotes: `says = \"\"\"...\"\"\"`.
- An id is for references. It has small letters, digits and dashes, and begins with a letter.

### Lengths, heats and times

Every one carries its unit.

| what | for example |
|---|---|
| length | `"12 mm"`, `"1.2 m"`, `"1/2 in"`, `"1 1/8 in"`, `"1-1/8 in"`, `"2 ft 3 in"` |
| temperature | `"950 degC"`, `"1750 degF"` |
| time | `"90 s"`, `"10 min"`, `"1 h 20 min"` |
| mass | `"90 g"`, `"1.2 kg"`, `"2 lb 3 oz"` |
| bar | `"25 x 12 mm flat"`, `"12 mm square"`, `"1/2 in round"`, `"33.7 x 3.2 mm tube"` |
| range of heat | `"1150 degC to 850 degC"`, the hotter one first |
| words | `"Mark {{post + 14 mm}} from the end."`; sums stand in braces, see below |
| id | `"gate-pintle"` |

A bar that is sold as 1/2 in may be 12, 12.5, 12.7 or 13 mm. Write what you mean.

### Sizes that an order changes

What differs from customer to customer is a size: the thickness of the post, the drop of the
hook. Give it a heading, and use its name wherever a length stands:

```toml
[sizes.post]
says = "the post at its thickest, where the tenon goes through"
default = "100 mm"
least = "40 mm"
most = "200 mm"
```

    long = "post + 14 mm"      plus and minus, with a space on each side
    long = "2 * post"          times and divided by a plain number: post / 2
    long = "(post - 3 mm) / 2" parentheses hold a sum together

A size may follow another: `default = "post - 3 mm"` and `most = "post"` make of the post's thinnest
place one that is never thicker than its thickest. An order that gives it outranks its default.

The name of a size has small letters, digits and underscores. It has no dash, which would look
like a minus, and it is no unit's name.

In words, a sum stands in braces and is shown worked out, in the shop's units: `says = "Mark
{{post + 14 mm}} from the end."` A bare dimension in words lies when the size changes, so `check`
warns of it where a recipe has sizes. A brace that is meant as a brace is written twice: `{{{{`.

### Kinds of step

The kind follows from what stands there: a step with `heats` is forging; one that begins with
rest, normalise, anneal, harden or temper is that; one that begins with file, drill, thread,
rivet and the like, and has no heats, is bench work; fit, gauge and finish are themselves.
Where the words do not say it, write `kind`, one of
{listed(KINDS)}.

A normalise of three cycles (`cycles = 3`) is three records, each with its own rest.
"""

_TABLES: tuple[tuple[str, type[msgspec.Struct], str], ...] = (
    ("The top of the file", WrittenRecipe, "Before the first heading."),
    ("A size, `[sizes.NAME]`", WrittenSize, ""),
    ("A component, `[[component]]`", WrittenComponent, ""),
    (
        "Stock, `stock = { ... }`",
        WrittenStock,
        "The length follows from `form`; `cut` outranks it.",
    ),
    ("Form, `form = [{ ... }]`", WrittenSolid, ""),
    ("An assembly's part, `needs = [{ ... }]`", WrittenNeed, ""),
    (
        "A step, `[[component.step]]`",
        WrittenStep,
        "In parentheses: the kinds of step that a key belongs to. Without, it belongs to all.",
    ),
    ("Heats, `heats = { ... }`", WrittenHeats, ""),
    ("A target, `to = { ... }`", WrittenTarget, ""),
    ("A tool with its setting, `tools = [{ ... }]`", WrittenTool, ""),
    ("A gauge, `gauge = [{ ... }]`", WrittenGauge, ""),
    (
        "What is bought, `[[bought]]`",
        WrittenBought,
        "Washers, nuts, screws, oil: what goes with the work and is not forged.",
    ),
    (
        "Where it was shared, `[shared]`",
        WrittenShared,
        "forgelog writes this table and those that follow when it shares a recipe.",
    ),
    ("What steps took, `[[evidence.steps]]`", WrittenTaken, ""),
    ("Of heats and of times, `heats = { ... }`", WrittenHeatsTaken, ""),
    ("How rests were kept, `[[evidence.rests]]`", WrittenRested, ""),
    ("What was spoilt, `[[evidence.spoilt]]`", WrittenSpoilt, ""),
)

_TAIL = """\
## What check doubts

A warning says that something may be right and is worth a second look:

- a bare dimension in words, where the recipe has sizes; a size that is used nowhere
- a `cut` that differs from the sum of form and losses by more than 15 %
- a target (`to`) whose section times length differs from every part of the form, or from its
  own mark, by more than 15 %
- stock without a form and without a cut; steps without stock
- a rest that does not say why; a harden without a temper after it
- a steel that is in no table; a heat or a quench outside what the sources say of the steel

## In an editor

`recipe.schema.json` in this folder (or `forgelog schema`) lets an editor that knows JSON Schema
complete keys and mark what does not belong: write `#:schema recipe.schema.json` in the first line
of a recipe, where the editor's TOML support reads that.

## What a recipe is not

A recipe is followed with judgement. It says nothing of what a piece may carry: what a person hangs
from or stands under is sized by a qualified engineer and by the local building code.
"""


_USUAL_EXAMPLES = {
    about.extra_json_schema["title"]: about.extra_json_schema.get("examples")
    for about in map(
        inspect.type_info, (Length, Heat, Minutes, Mass, SectionText, WorkRange, Prose, Id)
    )
    if isinstance(about, inspect.Metadata) and about.extra_json_schema
}
"""Examples that the page gives once, at its beginning."""


def format_page() -> str:
    """The page, in Markdown."""
    return "\n".join(_rows()) + "\n"


def _rows() -> Iterator[str]:
    yield _HEAD
    yield "## Every key"
    yield ""
    yield "Keys in **bold** must be there; the others may be left out. Words, lengths and the"
    yield "like stand in quotes; numbers, true and false do not."
    for title, cls, note in _TABLES:
        yield ""
        yield f"### {title}"
        yield ""
        if note:
            yield note
            yield ""
        yield "| key | write | what it is |"
        yield "|---|---|---|"
        for field in fields_of(cls):
            yield _row(field, steps=cls is WrittenStep)
        if cls is WrittenSolid:
            yield ""
            yield from _solids()
    yield ""
    yield "### Cautions"
    yield ""
    yield "| id | what is shown |"
    yield "|---|---|"
    for name, caution in CAUTIONS.items():
        yield f"| `{name}` | {_cell(caution.says)} |"
    yield ""
    yield _TAIL.rstrip()


def _row(field: inspect.Field, *, steps: bool) -> str:
    about = field.type.extra_json_schema if isinstance(field.type, inspect.Metadata) else None
    says = str((about or {}).get("description", ""))
    kinds = KEYS_OF.get(field.encode_name) if steps else None
    if kinds:
        says += f" ({', '.join(kind for kind in KINDS if kind in kinds)})"
    if field.encode_name == "until":
        says += f" Black is {UNTIL['black']:g} degC, hand-warm {UNTIL['hand-warm']:g}."
    name = f"**`{field.encode_name}`**" if field.required else f"`{field.encode_name}`"
    return f"| {name} | {_cell(_to_write(field.type))} | {_cell(says)} |"


def _to_write(kind: inspect.Type) -> str:
    """What to write, short; the page has said how lengths, heats and bars are written."""
    bare = kind.type if isinstance(kind, inspect.Metadata) else kind
    about = (kind.extra_json_schema or {}) if isinstance(kind, inspect.Metadata) else {}
    match bare:
        case inspect.UnionType():
            parts = [_to_write(one) for one in bare.types if not isinstance(one, inspect.NoneType)]
            words = listed(dict.fromkeys(parts))
        case inspect.ListType():
            words = f"list of {_to_write(bare.item_type)}"
        case inspect.StructType():
            words = "table"
        case inspect.DictType():
            words = "tables"
        case inspect.StrType():
            words = str(about.get("title", "words")).replace("few words", "words on one line")
        case _:
            words = wanted(kind).removesuffix(", in quotes")
    examples = about.get("examples")
    if examples and examples != _USUAL_EXAMPLES.get(about.get("title", "")):
        shown = (msgspec.json.encode(one).decode().replace(",", ", ") for one in examples)
        words += f", like {listed(f'`{one}`' for one in shown)}"
    return words


def _solids() -> Iterator[str]:
    yield "| `solid` | what it is | its keys |"
    yield "|---|---|---|"
    for name, solid in SOLIDS.items():
        keys = [f"`{key}` {says}" for key, says in solid.needs.items()]
        if solid.one_of:
            keys.append("one of " + listed(f"`{key}` {says}" for key, says in solid.one_of.items()))
        yield f"| `{name}` | {_cell(solid.says)} | {_cell('; '.join(keys))} |"


def _cell(words: str) -> str:
    return " ".join(words.replace("|", "\\|").split())
