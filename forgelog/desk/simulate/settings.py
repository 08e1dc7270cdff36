"""The settings files of the demo book, and the page that says what it is: our own invention."""

from __future__ import annotations

SHOP = """\
# The demo shop. It does not exist: the shop, its orders and its smith are invented, and all that
# its journal says was simulated by `forgelog make-demo`. Practise in it as you like.

name = "Demo shop (simulated)"
who = "simulated smith"
dialect = "uk"
units = "mm"
light = "dim"
air = "15 degC"
methods = ["hand", "power"]
currency = "EUR"

[[fire]]
id = "gas"
name = "gas forge"
kind = "gas"
places = 3

[[fire]]
id = "hearth"
name = "coke hearth"
kind = "coke"
places = 2

# Money. Every figure is invented and rounded: none was asked of a supplier, none is advice. Look
# how `forgelog quote` reckons with them, and put your own into your own book.

[rates]
hour = "38"
design_hour = "32"
fire_hour = "44"

[prices]
waste = "5 %"
finish_kg = "0.50"
consumables_hour = "1.20"

[prices.steel]
mild = "1.80"
1045 = "3.20"

[prices.bought]
ash = "3.50"
steel-wedge = "0.40"
coach-bolt = "0.90"
screw = "0.08"
nut-m10 = "0.15"
shelf-screw = "0.10"

[[prices.bar]]
section = "25 x 12 mm flat"
kg = "2.10"

[fuel]
gas = "2.50"
gas_hour = "0.9 kg"
coke = "0.70"
electricity = "0.28"
hammer_hour = "2 kWh"
shop_hour = "0.6 kWh"

[overhead]
sellable_hours = 900

[overhead.year]
rent = "3600"
insurance = "700"
van = "1400"

[tax]
name = "VAT"
share = "20 %"

[quote]
design = "1 h"
lay_out = "45 min"
pack = "20 min"
remakes = "4 %"
margin = "10 %"
minimum = "60"
deposit = "30 %"
valid_days = 30
"""

_TOOLS_HEAD = """\
# Tools and jigs of the demo shop: those that the five shipped recipes ask for by name.
# All of it is invented. Two are not ready, so that the lay-out has something to say.
"""

_STOCK_HEAD = """\
# Bars and offcuts of the demo shop. All of it is invented, as the shop is.
"""

_NOT_READY = {
    "trial blocks": ("to be made", "cut anew for each wall and gate; the last ones are too short"),
    "small scroll jig": ("to be repaired", "its eye came loose on the bakery's shelf"),
}

_JIGS = ("collar former", "hook jig", "scroll jig", "small scroll jig")

_TOOLS = (
    "10.2 mm drill",
    "11 mm drill",
    "12 mm gauge",
    "12 mm ring gauge",
    "12 mm square tongs",
    "16 mm gauge",
    "16.5 mm plug",
    "18 mm gauge",
    "36 mm gauge",
    "5.5 mm drill",
    "6 mm gauge",
    "6.5 mm drill",
    "M10 die",
    "M12 die",
    "M12 taps",
    "ball-peen hammer",
    "belt",
    "bending block",
    "bending fork",
    "bick",
    "bolster",
    "box tongs",
    "box tongs 25 mm",
    "brush",
    "calliper",
    "centre punch",
    "clamp",
    "clamps",
    "clean rags",
    "countersink",
    "cross-peen hammer",
    "cutting oil",
    "cutting plate",
    "die stock",
    "drill press with vice",
    "emery paper",
    "eye drift",
    "face shield",
    "flat file",
    "flat plate",
    "flat-bit tongs 6 mm",
    "flat-bit tongs 8 mm",
    "flatter",
    "folding bars",
    "fuller",
    "grinder",
    "guard board",
    "half-round file",
    "hardness tester",
    "heading tool",
    "hook pattern",
    "lamp",
    "leaf pattern",
    "leaf tongs",
    "lens",
    "letter stamps",
    "light hammer",
    "magnet",
    "mallet",
    "mandrel",
    "metal can with water",
    "new file",
    "number stamps",
    "octagon tongs",
    "oven",
    "pattern board",
    "pattern on the plate",
    "quench tongs",
    "rasp",
    "rivet set",
    "rivet snap",
    "round file",
    "round punch",
    "round-bit tongs 10 mm",
    "rule",
    "saw",
    "saw with a stop",
    "scale",
    "scriber",
    "scroll wrench",
    "shears",
    "sheet tongs",
    "side set",
    "slack tub",
    "slitter",
    "slot drift",
    "slot punch",
    "small eye drift",
    "small-bit tongs",
    "spirit level",
    "spring fuller",
    "square",
    "steel wedge",
    "straight 15.5 mm bar",
    "straight board",
    "straight edge",
    "straight shelf board",
    "strap pattern",
    "striker's hammer",
    "swage",
    "thermocouple",
    "trial blocks",
    "twisting wrench",
    "veining chisel",
    "vice",
    "vice with soft jaws",
    "wire brush",
    "wire hook",
    "wood block",
    "wooden mallet",
)

_BARS = (
    ("12 mm square", "6 m", 2, "mild", "rack, left"),
    ("25 x 8 mm flat", "3 m", 2, "mild", "rack, left"),
    ("12 x 6 mm flat", "3 m", 1, "mild", "rack, left"),
    ("40 x 8 mm flat", "2.4 m", 1, "mild", "rack, middle"),
    ("25 mm square", "1.9 m", 1, "mild", "rack, middle"),
    ("25 x 12 mm flat", "0.8 m", 1, "mild", "rack, middle"),
    ("50 x 6 mm flat", "1.2 m", 1, "mild", "rack, middle"),
    ("12 x 4 mm flat", "2 m", 1, "mild", "rack, right"),
    ("10 x 4 mm flat", "2 m", 1, "mild", "rack, right"),
    ("10 mm round", "3 m", 2, "mild", "rack, right"),
    ("6 mm round", "2 m", 1, "mild", "rack, right"),
    ("45 mm square", "0.6 m", 1, "1045", "under the bench, paint mark red"),
)

_OFFCUTS = (
    ("B2", "25 mm square", "340 mm", "mild"),
    ("B5", "40 x 8 mm flat", "510 mm", "mild"),
    ("C1", "12 mm square", "870 mm", "mild"),
    ("C4", "25 x 8 mm flat", "620 mm", "mild"),
    ("S3", "210 x 3 mm flat", "300 mm", "mild"),
    ("H1", "45 mm square", "150 mm", "1045"),
)


def _tools() -> str:
    parts = [_TOOLS_HEAD]
    for name in (*_TOOLS, *_JIGS):
        state, why = _NOT_READY.get(name, ("have", ""))
        jig = "jig = true\n" if name in _JIGS else ""
        remark = f"  # {why}" if why else ""
        parts.append(f'[[tool]]\nname = "{name}"\n{jig}state = "{state}"{remark}\n')
    return "\n".join(parts)


def _stock() -> str:
    parts = [_STOCK_HEAD]
    for section, long, count, steel, where in _BARS:
        parts.append(
            f'[[bar]]\nsection = "{section}"\nlong = "{long}"\ncount = {count}\n'
            f'steel = "{steel}"\nwhere = "{where}"\n'
        )
    for label, section, long, steel in _OFFCUTS:
        parts.append(
            f'[[offcut]]\nlabel = "{label}"\nsection = "{section}"\nlong = "{long}"\n'
            f'steel = "{steel}"\n'
        )
    return "\n".join(parts)


TOOLS = _tools()
STOCK = _stock()


def readme(seed: int) -> str:
    """The page that lies beside the demo book."""
    return f"""\
# Demo data (simulated)

`book/` is the book of a shop that does not exist. The shop, its customers, orders, tools and bars
are our own invention. Nobody forged any of it: every press of a key in `book/journal/` was made by
a simulated smith, who reads the same screen and presses the same keys as a real one, and to whom
go wrong the things that go wrong in a shop: rests cut short, a normalising cycle left out, a head
that cracks and is made again, burnt ends, a power cut, heats that nobody pressed. So what a review
of it says is no finding about forging; it shows what a review can say.

All files here, this page too, are made by

    forgelog make-demo --seed {seed}

from that seed and the recipes in `recipes/`, byte for byte the same every time;
`forgelog make-demo --check` says whether they still are. Make them again after a change to a
recipe, to the floor or to the journal. `forgelog demo` copies the book, with the recipes, to a
folder of its own, marks it as a practice copy and opens it there.
"""
