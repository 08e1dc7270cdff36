"""The sorts of words and numbers that a recipe file holds, each with its line of help."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

Length = Annotated[
    str,
    Meta(
        title="length",
        description="A length with its unit, or a sum over sizes.",
        examples=["12 mm", "1 1/8 in", "post + 14 mm"],
        min_length=1,
        max_length=200,
    ),
]
Heat = Annotated[
    str,
    Meta(
        title="temperature",
        description="A temperature with its unit.",
        examples=["870 degC", "1600 degF"],
        min_length=1,
        max_length=40,
    ),
]
Minutes = Annotated[
    str,
    Meta(
        title="time",
        description="A time with its unit.",
        examples=["10 min", "90 s", "1 h 20 min"],
        min_length=1,
        max_length=40,
    ),
]
Mass = Annotated[
    str,
    Meta(
        title="mass",
        description="A mass with its unit.",
        examples=["90 g", "1.2 kg", "3 oz"],
        min_length=1,
        max_length=40,
    ),
]
WorkRange = Annotated[
    str,
    Meta(
        title="range of heat",
        description="Two temperatures, from hot to less hot.",
        examples=["1150 degC to 850 degC"],
        min_length=1,
        max_length=60,
    ),
]
SectionText = Annotated[
    str,
    Meta(
        title="section",
        description="A bar as smiths write it.",
        examples=["25 x 12 mm flat", "12 mm square", "1/2 in round"],
        min_length=1,
        max_length=80,
    ),
]
Prose = Annotated[
    str,
    Meta(
        title="words",
        description="Plain words; a sum in braces is worked out and shown in the shop's units.",
        examples=["Mark {post + 14 mm} from the end."],
        max_length=2000,
    ),
]
Name = Annotated[
    str,
    Meta(title="few words", description="A few words on one line.", min_length=1, max_length=80),
]
Id = Annotated[
    str,
    Meta(
        title="id",
        description="A short name for references: small letters, digits and dashes.",
        examples=["gate-pintle"],
        pattern="^[a-z][a-z0-9-]{0,39}$",
    ),
]
SizeName = Annotated[
    str,
    Meta(
        title="name of a size",
        description="Small letters, digits and underscores; no unit's name.",
        examples=["post", "leaf_width"],
        pattern="^[a-z][a-z0-9_]{0,29}$",
    ),
]
Count = Annotated[int, Meta(title="count", ge=1, le=200)]
Heats = Annotated[int, Meta(title="heats", ge=1, le=40)]

Kind = Literal[
    "forge", "rest", "normalise", "anneal", "harden", "temper", "bench", "fit", "gauge", "finish"
]
Medium = Literal["still air", "draught", "ash", "vermiculite", "sand", "fire"]
Skipping = Literal["note", "matters"]
Quench = Literal["oil", "water", "brine", "air"]
Judge = Literal["eye", "magnet", "thermocouple", "oven"]


class Written(
    msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True
):
    """Base: a table of the recipe file; a key that is not listed is an error."""
