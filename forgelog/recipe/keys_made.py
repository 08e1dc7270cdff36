"""The keys of each table of a recipe and what they hold: made from `written.py`, not by hand.

    python -m tests.recipe.making_keys

makes it anew. To read the hints themselves would take longer than to check a recipe. What a key
holds is a tuple that begins with its sort:

    text    title, fewest letters, most letters, pattern     truth
    whole   least, most                                      choice  the words
    number  least, most                                      table   name of its class
    list    most, what each of it holds                      either  two sorts or more
    tables  most, pattern of a name, what each of it holds

Where there is no limit stands None.
"""

from __future__ import annotations

from typing import Any

Holds = tuple[Any, ...]

_CHECKSUM = ("text", "checksum", None, None, "^[0-9a-f]{16}$")
_FEW_WORDS = ("text", "few words", 1, 80, None)
_DATE = ("text", "date", None, None, "^[0-9]{4}-[0-9]{2}-[0-9]{2}$")
_TIME = ("text", "time", 1, 40, None)
_ID = ("text", "id", None, None, "^[a-z][a-z0-9-]{0,39}$")
_SECTION = ("text", "section", 1, 80, None)
_LENGTH = ("text", "length", 1, 200, None)
_WORDS = ("text", "words", None, 2000, None)
_FEW_WORDS_02 = ("text", "few words", 1, 60, None)
_RANGE_OF_HEAT = ("text", "range of heat", 1, 60, None)
_TEMPERATURE = ("text", "temperature", 1, 40, None)
_MASS = ("text", "mass", 1, 40, None)
_FEW_WORDS_03 = ("text", "few words", None, 80, None)

KEYS: dict[str, tuple[tuple[str, ...], dict[str, tuple[str, Holds]]]] = {
    "WrittenShared": (
        ("process",),
        {
            "process": ("process", _CHECKSUM),
            "by": ("by", _FEW_WORDS),
            "on": ("on", _DATE),
            "practice": ("practice", ("truth",)),
        },
    ),
    "WrittenHeatsTaken": (
        ("least", "middle", "most"),
        {
            "least": ("least", ("whole", 1, 99)),
            "middle": ("middle", ("whole", 1, 99)),
            "most": ("most", ("whole", 1, 99)),
        },
    ),
    "WrittenTimeTaken": (
        ("least", "middle", "most"),
        {
            "least": ("least", _TIME),
            "middle": ("middle", _TIME),
            "most": ("most", _TIME),
        },
    ),
    "WrittenTaken": (
        ("component", "step", "pieces"),
        {
            "component": ("component", _ID),
            "step": ("step", _FEW_WORDS),
            "by": ("by", ("choice", ("hand", "power", "press", "striker"))),
            "pieces": ("pieces", ("whole", 0, 99999)),
            "heats": ("heats", ("table", "WrittenHeatsTaken")),
            "time": ("time", ("table", "WrittenTimeTaken")),
            "sections": ("sections", ("list", 12, _SECTION)),
            "fires": ("fires", ("list", 3, ("choice", ("charcoal", "coke", "gas")))),
        },
    ),
    "WrittenRested": (
        ("component", "step", "pieces"),
        {
            "component": ("component", _ID),
            "step": ("step", _FEW_WORDS),
            "pieces": ("pieces", ("whole", 0, 99999)),
            "kept": ("kept", ("whole", 0, 99999)),
            "unsure": ("unsure", ("whole", 0, 99999)),
            "short": ("short", ("whole", 0, 99999)),
            "skipped": ("skipped", ("whole", 0, 99999)),
        },
    ),
    "WrittenSpoilt": (
        ("component", "step", "why", "pieces"),
        {
            "component": ("component", _ID),
            "step": ("step", _FEW_WORDS),
            "why": ("why", _FEW_WORDS),
            "pieces": ("pieces", ("whole", 0, 99999)),
        },
    ),
    "WrittenEvidence": (
        (),
        {
            "steps": ("steps", ("list", 2000, ("table", "WrittenTaken"))),
            "rests": ("rests", ("list", 2000, ("table", "WrittenRested"))),
            "spoilt": ("spoilt", ("list", 2000, ("table", "WrittenSpoilt"))),
        },
    ),
    "WrittenSize": (
        ("default",),
        {
            "default": ("default", _LENGTH),
            "says": ("says", _WORDS),
            "least": ("least", _LENGTH),
            "most": ("most", _LENGTH),
        },
    ),
    "WrittenStock": (
        ("section",),
        {
            "section": ("section", _SECTION),
            "cut": ("cut", _LENGTH),
            "grip": ("grip", _LENGTH),
            "trim": ("trim", _LENGTH),
            "loss": ("loss", ("number", 0, 30)),
        },
    ),
    "WrittenSolid": (
        ("solid",),
        {
            "solid": ("solid", _FEW_WORDS),
            "across": ("across", _LENGTH),
            "wide": ("wide", _LENGTH),
            "thick": ("thick", _LENGTH),
            "long": ("long", _LENGTH),
            "section": ("section", _SECTION),
            "start": ("start", _SECTION),
            "end": ("end", _SECTION),
            "inside": ("inside", _LENGTH),
            "outside": ("outside", _LENGTH),
            "centre_line": ("centre_line", _LENGTH),
            "thread": ("thread", _FEW_WORDS),
            "times": ("times", ("whole", 1, 200)),
        },
    ),
    "WrittenTool": (
        ("name",),
        {
            "name": ("name", _FEW_WORDS),
            "setting": ("setting", _WORDS),
        },
    ),
    "WrittenTarget": (
        (),
        {
            "section": ("section", _SECTION),
            "long": ("long", _LENGTH),
            "hot": ("hot", ("truth",)),
            "mark": ("mark", _LENGTH),
        },
    ),
    "WrittenGauge": (
        ("what", "size"),
        {
            "what": ("what", _FEW_WORDS),
            "size": ("size", _LENGTH),
            "plus": ("plus", _LENGTH),
            "minus": ("minus", _LENGTH),
            "hot": ("hot", ("truth",)),
        },
    ),
    "WrittenHeats": (
        (),
        {
            "hand": ("hand", ("whole", 1, 40)),
            "striker": ("striker", ("whole", 1, 40)),
            "power": ("power", ("whole", 1, 40)),
            "press": ("press", ("whole", 1, 40)),
        },
    ),
    "WrittenStep": (
        ("do",),
        {
            "do": ("do", _FEW_WORDS_02),
            "kind": (
                "kind",
                (
                    "choice",
                    (
                        "anneal",
                        "bench",
                        "finish",
                        "fit",
                        "forge",
                        "gauge",
                        "harden",
                        "normalise",
                        "rest",
                        "temper",
                    ),
                ),
            ),
            "id": ("id", _ID),
            "done": ("done", _FEW_WORDS),
            "says": ("says", _WORDS),
            "heats": ("heats", ("table", "WrittenHeats")),
            "minutes": ("minutes", _TIME),
            "dries": ("dries", _TIME),
            "work": ("work", _RANGE_OF_HEAT),
            "section": ("section", _SECTION),
            "to": ("to", ("table", "WrittenTarget")),
            "tools": ("tools", ("list", 40, ("either", _FEW_WORDS, ("table", "WrittenTool")))),
            "jigs": ("jigs", ("list", 40, ("either", _FEW_WORDS, ("table", "WrittenTool")))),
            "gauge": ("gauge", ("list", 40, ("table", "WrittenGauge"))),
            "follows": ("follows", ("truth",)),
            "until": ("until", _FEW_WORDS),
            "in": (
                "medium",
                ("choice", ("ash", "draught", "fire", "sand", "still air", "vermiculite")),
            ),
            "why": ("why", _WORDS),
            "skipping": ("skipping", ("choice", ("matters", "note"))),
            "at": ("at", _TEMPERATURE),
            "soak": ("soak", _TIME),
            "cycles": ("cycles", ("whole", 1, 6)),
            "quench": ("quench", ("choice", ("air", "brine", "oil", "water"))),
            "judge": ("judge", ("list", 4, ("choice", ("eye", "magnet", "oven", "thermocouple")))),
            "cool": ("cool", _WORDS),
            "watch": ("watch", _WORDS),
            "recover": ("recover", _WORDS),
            "cautions": ("cautions", ("list", 30, _FEW_WORDS)),
        },
    ),
    "WrittenNeed": (
        ("component",),
        {
            "component": ("component", _ID),
            "count": ("count", ("whole", 1, 200)),
        },
    ),
    "WrittenComponent": (
        ("id", "name"),
        {
            "id": ("id", _ID),
            "name": ("name", _FEW_WORDS),
            "each": ("each", ("whole", 1, 200)),
            "hands": ("hands", ("list", 12, _FEW_WORDS)),
            "variant": ("variant", ("list", 12, _FEW_WORDS)),
            "lot": ("lot", ("truth",)),
            "stock": ("stock", ("table", "WrittenStock")),
            "form": ("form", ("list", 60, ("table", "WrittenSolid"))),
            "needs": ("needs", ("list", 60, ("either", _ID, ("table", "WrittenNeed")))),
            "match": ("match", ("list", 20, _FEW_WORDS)),
            "step": ("step", ("list", 200, ("table", "WrittenStep"))),
        },
    ),
    "WrittenBought": (
        ("id", "name"),
        {
            "id": ("id", _ID),
            "name": ("name", _FEW_WORDS),
            "each": ("each", ("whole", 1, 200)),
            "says": ("says", _WORDS),
            "for": ("component", _ID),
            "mass": ("mass", _MASS),
        },
    ),
    "WrittenRecipe": (
        ("format", "id", "name"),
        {
            "format": ("format", ("whole", 1, 1)),
            "id": ("id", _ID),
            "name": ("name", _FEW_WORDS),
            "says": ("says", _WORDS),
            "maker": ("maker", _FEW_WORDS),
            "revision": ("revision", ("either", ("whole", None, None), _FEW_WORDS)),
            "licence": ("licence", _FEW_WORDS_03),
            "steel": ("steel", _FEW_WORDS),
            "cautions": ("cautions", ("list", 30, _FEW_WORDS)),
            "sizes": ("sizes", ("tables", 50, "^[a-z][a-z0-9_]{0,29}$", ("table", "WrittenSize"))),
            "component": ("component", ("list", 100, ("table", "WrittenComponent"))),
            "makes": ("makes", ("list", 10, _ID)),
            "bought": ("bought", ("list", 50, ("table", "WrittenBought"))),
            "shared": ("shared", ("table", "WrittenShared")),
            "evidence": ("evidence", ("table", "WrittenEvidence")),
        },
    ),
}
"""Of each table: the fields that must be there; of each key its field."""
