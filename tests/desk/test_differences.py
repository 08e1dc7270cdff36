from __future__ import annotations

import msgspec
import pytest

from forgelog.desk.differences import difference_words
from forgelog.recipe.resolved import Gauge, RestGoal, Step, Tool
from forgelog.trade.sections import Section

STEP = Step(
    id="bend",
    kind="forge",
    do="bend",
    done="bent",
    says="Bend it {60 mm} from the end.",
    heats={"hand": 2},
    start_degc=1100.0,
    to_long_mm=60.0,
    to_section=Section(kind="square", a_mm=16.0),
    gauges=(Gauge(what="bore", mm=16.5, plus_mm=0.5),),
    tools=(Tool(id="jig", name="jig", setting="stop at {60 mm}"),),
    rest=RestGoal(until="black", degc=480.0),
)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"to_long_mm": 80.0}, "length 60 mm, now 80 mm"),
        ({"to_long_mm": None}, "length 60 mm, now not given"),
        ({"to_section": Section(kind="round", a_mm=12.0)}, "to 16 mm square, now 12 mm round"),
        (
            {"section": Section(kind="flat", a_mm=25.0, b_mm=12.0)},
            "bar not given, now 25 x 12 mm flat",
        ),
        ({"start_degc": 1000.0}, "start at 1100 degC, now 1000 degC"),
        ({"minutes_s": 600.0}, "planned time not given, now 10 min"),
        ({"heats": {"hand": 3, "power": 1}}, "planned heats 2 (hand), now 3 (hand) and 1 (power)"),
        ({"quench": "oil"}, "quench in nothing, now oil"),
        ({"gauges": (Gauge(what="bore", mm=17.0, plus_mm=0.5),)}, "gauge bore 16.5 mm, now 17 mm"),
        ({"gauges": (Gauge(what="bore", mm=16.5),)}, "gauge bore 16.5 mm has another tolerance"),
        ({"gauges": ()}, "gauge bore is gone"),
        ({"tools": (Tool(id="jig", name="jig"),)}, "jig: stop at 60 mm, now no setting"),
        ({"tools": ()}, "jig is no longer needed"),
        (
            {"rest": RestGoal(until="cold", degc=30.0, skipping="matters")},
            "rest to black in still air, note, now to cold in still air, matters",
        ),
        (
            {"says": "Bend it {80 mm} from the end."},
            'what it says: "Bend it 60 mm from the end.", now "Bend it 80 mm from the end."',
        ),
        ({"says": "x" * 80}, "what it says is another"),
        ({"to_mark_mm": 49.0}, "marked off not given of bar, now 49 mm"),
        ({"dries_s": 3600.0}, "drying not given, now 1 h"),
        ({"watch": "the thin end"}, "what to watch is another"),
        ({"follows": True}, "whether it follows in the same heat is another"),
    ],
)
def test_old_and_new_are_told(change: dict[str, object], words: str) -> None:
    now = msgspec.structs.replace(STEP, **change)
    assert difference_words(STEP, now, "mm") == (words,)


def test_every_field_of_a_step_has_words() -> None:
    other = {"str": "other", "bool": True, "int": 9, "float": 9.0}
    for field in msgspec.structs.fields(Step):
        if field.name == "id":
            continue
        old = getattr(STEP, field.name)
        new: object
        if isinstance(old, tuple):
            new = ("other",) if field.name in ("judge", "cautions") else ()
        elif isinstance(old, dict):
            new = {}
        elif field.name in ("rest", "section", "to_section"):
            new = Section(kind="round", a_mm=9.0) if field.name != "rest" else None
        elif old is None:
            new = 99.0
        else:
            new = other[type(old).__name__]
        if new == old:
            continue
        words = difference_words(STEP, msgspec.structs.replace(STEP, **{field.name: new}), "mm")
        assert len(words) == 1, field.name
        assert "_" not in words[0]


def test_lengths_are_told_in_the_shops_units() -> None:
    now = msgspec.structs.replace(STEP, to_long_mm=76.2)
    assert difference_words(STEP, now, "inch") == ("length 2 3/8 in, now 3 in",)
    assert difference_words(STEP, STEP, "mm") == ()


def test_of_long_words_that_differ_only_in_sizes_the_sizes_are_told() -> None:
    said = "Draw it down on all four sides to {a}, then to {b}, and leave {c} of it as it is there."
    step = msgspec.structs.replace(STEP, says=said.format(a="{42 mm}", b="{95 mm}", c="{42 mm}"))
    moved = msgspec.structs.replace(STEP, says=said.format(a="{49 mm}", b="{95 mm}", c="{49 mm}"))
    assert difference_words(step, moved, "mm") == ("what it says: 42 mm, now 49 mm",)
    other = msgspec.structs.replace(STEP, says=moved.says.replace("leave", "keep"))
    assert difference_words(step, other, "mm") == ("what it says is another",)
