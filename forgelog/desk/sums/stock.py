"""Stock: blanks for forms, drawing down, upsetting."""

from __future__ import annotations

import math

import msgspec

from forgelog.desk.sums.answer import Answer, Row
from forgelog.desk.sums.asking import Asked, CannotSum, Field, Sum
from forgelog.desk.sums.usual import BARS, LENGTHS, SHORT, section
from forgelog.trade.sections import Section, area_mm2, write_section
from forgelog.trade.solid_words import parse_solid
from forgelog.trade.solids import solid_volume_mm3
from forgelog.trade.stock import (
    KERF_MM,
    LOSS,
    becomes_mm,
    blank_length_mm,
    scale_mm3,
    stock_for_mm,
)
from forgelog.trade.upset import HAND_LIMIT, MACHINE_LIMIT, upset_limit_mm, upset_of

_KEPT = "volume is kept but for scale; loss 4 % where nothing is known (teaching texts 2 to 6 %)"


class _Blank(msgspec.Struct, frozen=True, kw_only=True):
    """What the sum needs of a form, however it was told."""

    title: str
    section: Section
    volume_mm3: float
    trim_mm: float
    grip_mm: float
    loss: float
    cut_mm: float | None = None


def _stock(asked: Asked) -> Answer:
    blank = _of_recipe(asked) if asked.has("recipe") else _of_solids(asked)
    kerf = asked.number("kerf")
    long = blank_length_mm(
        blank.volume_mm3,
        blank.section,
        trim_mm=blank.trim_mm,
        loss=blank.loss,
        grip_mm=blank.grip_mm,
    )
    scale = scale_mm3(blank.volume_mm3, blank.section, trim_mm=blank.trim_mm, loss=blank.loss)
    rows = [
        Row("length_mm", "cut it", long, "length"),
        Row("section", "from", write_section(blank.section)),
        Row("volume_mm3", "the form holds", blank.volume_mm3, "volume"),
        Row("scale_mm3", "lost as scale", scale, "volume"),
        Row("loss_percent", "that is", blank.loss * 100, "percent"),
        Row("trim_mm", "trim, within it", blank.trim_mm, "length"),
        Row("grip_mm", "grip, within it", blank.grip_mm, "length"),
        Row("kerf_mm", "kerf of the saw, on top", kerf, "fine"),
        Row("length_with_kerf_mm", "of the bar goes", long + kerf, "length"),
    ]
    note = ""
    if blank.cut_mm is not None:
        rows.append(Row("cut_mm", "the recipe cuts", blank.cut_mm, "length"))
        note = "the length that has worked outranks the sum"
    if blank.section.kind != "round" and blank.section.a_mm < 10:
        note = note or "thin bar loses more to scale than this"
    return Answer(blank.title, tuple(rows), _KEPT, note)


def _of_solids(asked: Asked) -> _Blank:
    texts = [str(one) for one in asked.all("solid")]
    if not texts or not asked.has("from"):
        raise CannotSum(
            "stock wants forms and a bar: "
            'forgelog sums stock --solid "square 12 mm x 300 mm" --from "16 mm square"'
        )
    volume = 0.0
    for text in texts:
        said = parse_solid(text)
        volume += solid_volume_mm3(said.kind, said.dims) * said.times
    if volume <= 0:
        raise CannotSum("the forms come to nothing: the holes take more than there is")
    if asked.has("component") or asked.has("size"):
        raise CannotSum("--component and --size go with --recipe")
    return _Blank(
        title=" + ".join(texts),
        section=asked.section("from"),
        volume_mm3=volume,
        trim_mm=asked.maybe("trim") or 0.0,
        grip_mm=asked.maybe("grip") or 0.0,
        loss=_loss(asked, LOSS),
    )


def _of_recipe(asked: Asked) -> _Blank:
    from forgelog.desk.sums.of_recipe import stock_of_recipe

    if asked.has("solid"):
        raise CannotSum("a recipe has its own forms; leave --solid out, or --recipe")
    name, stock = stock_of_recipe(
        asked.word("recipe"),
        asked.word("component"),
        [str(one) for one in asked.all("size")],
        asked.book,
    )
    if stock.volume_mm3 <= 0:
        raise CannotSum(f"{name} has no form in its recipe, so there is no sum of its stock")
    trim, grip = asked.maybe("trim"), asked.maybe("grip")
    return _Blank(
        title=name,
        section=asked.section("from") if asked.has("from") else stock.section,
        volume_mm3=stock.volume_mm3,
        trim_mm=stock.trim_mm if trim is None else trim,
        grip_mm=stock.grip_mm if grip is None else grip,
        loss=_loss(asked, stock.loss),
        cut_mm=stock.cut_mm,
    )


def _loss(asked: Asked, usual: float) -> float:
    said = asked.maybe("loss")
    return usual if said is None else said / 100


def _becomes(asked: Asked) -> Answer:
    before, after = asked.section("section"), asked.section("to")
    long, need = asked.maybe("length"), asked.maybe("need")
    if (long is None) == (need is None):
        raise CannotSum("becomes wants the length that there is, or --need with the one wanted")
    loss = (asked.maybe("loss") or 0.0) / 100
    ratio = area_mm2(before) / area_mm2(after)
    tail = (
        Row("reduction", "", 1 - 1 / ratio),
        Row("reduction_percent", "the section loses", 100 * (1 - 1 / ratio), "percent")
        if ratio >= 1
        else Row("growth_percent", "the section gains", 100 * (1 / ratio - 1), "percent"),
        Row("length_ratio", "times as long", ratio, "text"),
    )
    title = f"{write_section(before)} to {write_section(after)}"
    if long is not None:
        rows = (
            Row("length_mm", "it becomes", becomes_mm(long, before, after, loss), "length"),
            Row("from_mm", "from", long, "length"),
        )
    else:
        assert need is not None
        rows = (
            Row("length_mm", "take of the bar", stock_for_mm(need, before, after, loss), "length"),
            Row("need_mm", "for", need, "length"),
        )
    source = "volume is kept; scale is left out unless --loss says it"
    return Answer(title, (*rows, *tail), source)


def _upset(asked: Asked) -> Answer:
    bar = asked.section("section")
    done = upset_of(asked.number("by"), bar)
    limit = upset_limit_mm(bar)
    gathers = max(1, math.ceil(done.bar_mm / limit - 1e-9))
    rows = (
        Row("length_mm", "bar that it takes", done.bar_mm, "length"),
        Row("unsupported_limit_mm", "at once, by hand, at most", limit, "length"),
        Row("slenderness", "thicknesses long", done.slenderness, "text"),
        Row("at_once", "can be gathered at once", done.at_once),
        Row("heats_at_least", "heats at least", gathers, "whole"),
        Row(
            "machine_limit_mm", "rule of machine dies", upset_limit_mm(bar, MACHINE_LIMIT), "length"
        ),
    )
    source = (
        f"unsupported length at most {MACHINE_LIMIT:g} d in one blow (forging design rules, upset "
        f"rule 1); by hand {HAND_LIMIT:g} d, common practice"
    )
    note = "" if done.at_once else "it buckles: gather it in several lengths, a heat each"
    return Answer(write_section(bar), rows, source, note)


_LOSS = Field(
    name="loss",
    says="per cent lost as scale",
    kind="percent",
    usual=("4", "3", "5", "6", "0"),
)

SUMS = (
    Sum(
        "stock",
        "How long to cut a bar for a finished form, from forms or from a recipe.",
        (
            Field(
                name="solid",
                says="a form of the finished piece; as often as needed",
                kind="solid",
                many=True,
                usual=(
                    *("square 12 mm x 300 mm", "taper 12 mm to 4 mm round x 80 mm"),
                    *("leaf 80 x 30 x 3 mm", "flat 25 x 6 mm x 200 mm", "ball 25 mm"),
                    *("eye 6 mm round inside 16 mm", "rod M12 x 60 mm"),
                ),
            ),
            Field(name="from", says="the bar that it is cut from", kind="section", usual=BARS),
            Field(name="recipe", says="a recipe, instead of forms", kind="text"),
            Field(name="component", says="which part of the recipe", kind="text"),
            Field(name="size", says="a size of the order, post=120mm", kind="text", many=True),
            Field(name="trim", says="cut off the worked end", kind="length", usual=SHORT),
            Field(name="grip", says="for the tongs", kind="length", usual=("35 mm", "40 mm")),
            Field(
                name="kerf",
                says="width of the saw cut",
                kind="length",
                default=f"{KERF_MM:g} mm",
                usual=("2 mm", "1.5 mm", "2.5 mm", "0 mm"),
            ),
            _LOSS,
        ),
        (
            '--solid "square 12 mm x 300 mm" --solid "taper 12 mm to 4 mm round x 80 mm" '
            '--from "12 mm square" --trim "10 mm"',
            "--recipe gate-hinge-set --component pintle --size post=120mm",
        ),
        _stock,
    ),
    Sum(
        "becomes",
        "How long a piece becomes when it is drawn, or how much bar a length needs.",
        (
            section("section", "the bar before"),
            Field(name="length", says="how long it is", kind="length", bare=True, usual=LENGTHS),
            section("to", "the bar that it becomes", bare=False),
            Field(name="need", says="length wanted of the new section", kind="length"),
            _LOSS,
        ),
        (
            '"20 mm square" "100 mm" --to "10 mm square"',
            '"16 mm square" --to "30 x 4 mm flat" --need "400 mm"',
        ),
        _becomes,
        one_of=("length", "need"),
    ),
    Sum(
        "upset",
        "Bar that a head or bulge takes up, and whether it buckles.",
        (
            section(),
            Field(
                name="by",
                says="volume of the head, or its form",
                kind="bulk",
                needed=True,
                usual=("round 20 mm x 10 mm", "ball 25 mm", "square 20 mm x 15 mm"),
            ),
        ),
        ('"12 mm round" --by "round 20 mm x 10 mm"', '"16 mm round" --by "33.5 cm3"'),
        _upset,
    ),
)
