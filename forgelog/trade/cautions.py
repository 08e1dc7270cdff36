"""The usual cautions of the work. They remind; local codes and licensed practice decide."""

from __future__ import annotations

import re

import msgspec

from forgelog.units import ReadError

SHORT_LETTERS = 60
"""A short line fits on the step card."""


class CautionError(ReadError):
    """An id that is no caution of the table."""


class Caution(msgspec.Struct, frozen=True, kw_only=True):
    """One caution."""

    id: str
    short: str
    """For the step card, 60 letters at most."""
    says: str
    """For lay-out and sheet: whole sentences."""
    source: str


_TABLE = (
    Caution(
        id="black-is-hot",
        short="Black is hot: feel near it, tongs on it.",
        says="Steel shows no colour in shop light below about 480 degC and burns skin far below "
        "that: bare metal from about 65 to 70 degC at a touch of one second. Lay hot pieces in "
        "one place, and hold the back of the hand near, never on.",
        source="ISO 13732-1 (from memory)",
    ),
    Caution(
        id="eyes",
        short="Glasses on: impact always, infrared filter at the fire.",
        says="Wear impact glasses always, and a filter against infrared for long looks into the "
        "fire. Scale, sparks and wire fly further than they should.",
        source="EN 166 and EN 171, passing to EN ISO 16321-1; 29 CFR 1910.133",
    ),
    Caution(
        id="hearing",
        short="Ears covered while anything is struck or ground.",
        says="Hammering, power hammers and grinding are well above 85 dBA: wear ear protection, "
        "and agree on signs with whoever helps.",
        source="29 CFR 1910.95; NIOSH 98-126, 85 dBA over 8 h",
    ),
    Caution(
        id="hand-arm",
        short="Rest the arm, change hands, let the power hammer work.",
        says="Vibration and strain add up over years: rest, change hands, keep a loose grip, and "
        "use the power hammer for the heavy part.",
        source="common practice; ISO 5349-1 for hand-arm vibration (from memory)",
    ),
    Caution(
        id="power-hammer",
        short="Stand beside the tongs, never behind them. Hands clear.",
        says="Guards in place, tongs never in line with the body, no loose sleeves, hands out of "
        "the dies. Stop it and lock it out before the dies are changed.",
        source="29 CFR 1910.218 forging machines; 29 CFR 1910.147 lock-out",
    ),
    Caution(
        id="gloves",
        short="Gloves off at running drills, wheels and hammers.",
        says="A glove is drawn in where a bare hand gets away: take gloves off near running "
        "drills, lathes, wheels and power hammers.",
        source="common practice",
    ),
    Caution(
        id="carbon-monoxide",
        short="Air on, carbon monoxide alarm on.",
        says="A fire in a closed room makes carbon monoxide, which has no smell: ventilate, and "
        "keep an alarm where you breathe. Headache means out, now. Limits are those of the place; "
        "for one, 50 ppm over 8 h.",
        source="29 CFR 1910.1000 table Z-1; NIOSH 35 ppm, ceiling 200 ppm",
    ),
    Caution(
        id="zinc",
        short="No zinc or cadmium coating in the fire, ever.",
        says="Galvanised and cadmium-plated steel gives off fume at forging heat: zinc makes fume "
        "fever hours later, cadmium can kill. Take coatings off by other means before the fire, "
        "and have zinc put on after the forging.",
        source="29 CFR 1910.1000 table Z-1, zinc oxide fume 5 mg/m3; OSHA 1989 rule text",
    ),
    Caution(
        id="oily-rags",
        short="Oily rags: flat outdoors, or under water in a closed can.",
        says="Linseed and other drying oils heat themselves and set rags alight hours later. Dry "
        "rags spread flat outdoors, or keep them under water in a closed metal can. Never in a "
        "heap, never in the bin.",
        source="NFPA, Safety with Oily Rags (2017)",
    ),
    Caution(
        id="quench-oil",
        short="Oil quench: lid by the tank, no water in it, straight in.",
        says="Use a metal tank with a lid, oil well below its flash point, no water in it, "
        "and a class B extinguisher at hand. Go in straight and all the way; never with a closed "
        "vessel, a tube or a wet piece.",
        source="quenching handbooks (from memory): 50 degC below the flash point",
    ),
    Caution(
        id="hollow-work",
        short="Hollow work: a vent hole before the fire.",
        says="A closed tube or hollow bursts when it is heated: drill a vent that stays open, and "
        "look for water, oil and old paint inside.",
        source="welding and forging safety texts (from memory)",
    ),
    Caution(
        id="flying-edges",
        short="Dress mushroomed heads; never hammer on hammer.",
        says="Edges fly off mushroomed tools and hard faces: dress them, never strike hammer on "
        "hammer, and let nobody stand in line with a cut that is about to part.",
        source="common practice; ASME B107.54 for struck tools",
    ),
    Caution(
        id="gas",
        short="Leak test with soap, shut at the bottle.",
        says="Test joints with soapy water, shut the gas at the bottle when you leave, keep "
        "bottles upright and cool. Propane pools low: vent at the floor. Gas rules are those "
        "of the place; a licensed fitter where the law says so.",
        source="common practice; local gas rules",
    ),
    Caution(
        id="fibre-lining",
        short="Fibre lining: coated, never torn out dry.",
        says="Ceramic fibre dust is a suspected carcinogen, and holds free silica once it has been "
        "fired: coat the lining, wet it before tearing it out, wear a mask for fine dust.",
        source="IARC monograph 81, refractory ceramic fibres (from memory)",
    ),
    Caution(
        id="grinding",
        short="Wheel: guard on, speed right, ring test, face covered.",
        says="Guard in place, the wheel's speed not below the machine's, a ring test before it is "
        "mounted, a face shield, and nobody in line. Keep sparks off rags, oil and gas.",
        source="29 CFR 1910.215",
    ),
    Caution(
        id="blue-heat",
        short="Bend and straighten red, or cold: never at blue heat.",
        says="Between about 150 and 370 degC steel is least tough: do not bend, straighten or "
        "drive it there. Either red or cold.",
        source="blue brittleness, materials textbooks (figures from memory)",
    ),
    Caution(
        id="carries-a-person",
        short="Carries or can fall on people: an engineer sizes it.",
        says="What carries a person, or could fall on one, is sized by a qualified engineer and by "
        "the building codes of the place. The sums here give mass and thread; they do not say "
        "that a part holds.",
        source="local building codes",
    ),
    Caution(
        id="unknown-steel",
        short="Unknown steel: a test piece before it is hardened.",
        says="A steel that is not known may crack, stay soft or harden in air: try a piece of it "
        "first and note what it did.",
        source="common practice",
    ),
)

CAUTIONS: dict[str, Caution] = {one.id: one for one in _TABLE}
"""Every caution by its id, the gravest first."""

_HEAT_KINDS = ("normalise", "anneal", "harden", "temper")


def caution(caution_id: str) -> Caution:
    """The caution of an id.

    Raises:
        CautionError: no such id; says what is near.
    """
    found = CAUTIONS.get(caution_id)
    if found is None:
        from difflib import get_close_matches

        near = get_close_matches(caution_id[:60].lower(), list(CAUTIONS), n=1, cutoff=0.5)
        expected = f"one of {', '.join(CAUTIONS)}"
        raise CautionError(caution_id, "is no caution", expected, near[0] if near else "")
    return found


def usual_for(
    kind: str,
    words: str = "",
    *,
    steel: str = "",
    finish: str = "",
    quench: str = "",
    methods: tuple[str, ...] = (),
    section_kind: str = "",
    fire: str = "",
    piece: str = "",
) -> tuple[str, ...]:
    """The cautions that a kind of work needs, whether or not the recipe lists them.

    Args:
        kind: forge, rest, normalise, anneal, harden, temper, bench, fit, gauge or finish.
        words: What is done, as the recipe says it: "bend the hook cold".
        steel: As the recipe says it; an unknown one has its own caution when it is hardened.
        finish: As the order says it: "linseed oil", "galvanised".
        quench: oil, water, brine or air.
        methods: The methods that may be used: power or press have their own caution.
        section_kind: Of the bar; a tube has its own caution.
        fire: gas, coke or charcoal.
        piece: Name of the whole piece: a stair rail or a bracket has its own caution.

    Returns:
        Ids out of `CAUTIONS`, in its order.
    """
    needed: set[str] = set()
    text = f"{words} {finish}".lower()
    if kind in ("forge", *_HEAT_KINDS):
        needed |= {"black-is-hot", "eyes", "carbon-monoxide"}
        needed |= {"gas", "fibre-lining"} if fire == "gas" else set()
        if section_kind == "tube" or _has(words, "tube", "pipe", "hollow"):
            needed.add("hollow-work")
    if kind == "forge":
        needed |= {"hearing", "hand-arm"}
        if set(methods) & {"power", "press"}:
            needed.add("power-hammer")
        if _has(words, "cut", "cutting", "punch", "slit", "drift", "chisel", "rivet"):
            needed.add("flying-edges")
    if kind == "rest":
        needed.add("black-is-hot")
    if kind == "harden":
        needed |= {"quench-oil"} if quench == "oil" else set()
        needed |= {"unknown-steel"} if not steel or "unknown" in steel.lower() else set()
    if _has(words, "bend", "bent", "straighten", "twist", "true") and kind in ("forge", "bench"):
        needed.add("blue-heat")
    if kind in ("bench", "fit", "finish"):
        needed.add("eyes")
        if _has(text, "grind", "polish", "sand", "linish", "buff", "wire", "brush"):
            needed |= {"grinding", "hearing", "gloves"}
        if _has(text, "drill", "mill", "lathe", "turn", "thread", "tap"):
            needed.add("gloves")
        if _has(text, "oil", "linseed", "tung", "varnish"):
            needed.add("oily-rags")
    if _has(f"{text} {steel}", "galvanise", "galvanize", "zinc", "cadmium"):
        needed.add("zinc")
    if _has(piece, *_CARRIES):
        needed.add("carries-a-person")
    return tuple(one for one in CAUTIONS if one in needed)


_CARRIES = (
    *("rail", "railing", "handrail", "balustrade", "baluster", "stair", "step", "ladder"),
    *("swing", "hammock", "balcony", "seat", "bench", "chair", "lifting", "shackle", "chain"),
    *("bracket", "gate", "hinge", "pintle", "chandelier", "canopy", "sign", "anchor", "hanger"),
)


def _has(text: str, *words: str) -> bool:
    """True where a word stands in a text, also as "bends", "bending", "galvanised"."""
    stems = "|".join(word.removesuffix("e") for word in words)
    ends = "e|s|es|d|y|[a-z]?ed|[a-z]?ing"
    return bool(re.search(rf"(?<![a-z])(?:{stems})(?:{ends})?(?![a-z])", text.lower()))
