"""Makes a new book: a folder with commented settings and the shipped recipes."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from forgelog.book.disk import make_folder, write_new

SHOP = """\
# The shop. Everything here may be left out; what stands after a # is only a remark.
# forgelog never writes to this file.

# name = "Our forge"          # for sheets
# who = "A. Smith"            # for the record
dialect = "uk"                # the trade's words: uk or us
units = "mm"                  # how numbers are shown: mm or inch; recipes may use both
light = "dim"                 # the light that heat colours are judged in: dim or day
# air = "18 degC"             # temperature of the shop's air; rests cool towards it
methods = ["hand"]            # hand, striker, power, press: what the shop has, the usual one first
# alarms_off = ["rest"]       # alarms that stay quiet: look, rest, heat
# currency = "EUR"            # three letters; for quotes

[[fire]]
id = "gas"
name = "gas forge"
kind = "gas"                  # gas, coke or charcoal
places = 3                    # how many pieces lie in it at once
# heat = "1250 degC"          # how hot it runs

# [[fire]]
# id = "hearth"
# name = "coke hearth"
# kind = "coke"
# places = 2

# [saw]                       # for `forgelog cut`
# kerf = "2 mm"               # width of one saw cut
# bar = "6 m"                 # how long a new bar is
# least = "150 mm"            # a shorter rest is not kept

# [[substitute]]              # a bar that will do where a recipe wants another; the cut list then
# planned = "12 mm square"    # says what it would save
# bar = "1/2 in square"

# Money, for `forgelog quote`. The figures below are examples, not advice: put yours in, and take
# the # away. What is not set is left blank in a quote, which then says so; nothing is guessed.
# An amount is written "38.50" or "38.50 EUR"; a price may be finer than the coin.

# [rates]                     # what an hour of work costs the customer
# hour = "40"                 # any hour that has no rate of its own below
# design_hour = "35"          # drawing, talking; also lay_out_hour, fire_hour, bench_hour,
# fire_hour = "48"            # finish_hour, pack_hour, survey_hour, fitting_hour

# [prices]
# waste = "5 %"               # ends of bars too short to keep, on top of the lengths that are cut
# finish_kg = "0.60"          # oil, wax or paint for a kg of finished work
# consumables_hour = "1.20"   # belts, discs, flux, for an hour at fire and bench

# [prices.steel]              # a kg of bar, by steel
# mild = "1.90"

# [prices.bought]             # one of each bought part, by its id in the recipe
# coach-bolt = "0.80"

# [[prices.bar]]              # a bar that has a price of its own
# section = "25 x 12 mm flat" # either of the two may be left out
# steel = "mild"
# kg = "2.10"

# [fuel]
# gas = "2.60"                # a kg; also coke, charcoal
# gas_hour = "0.9 kg"         # what yours takes: weigh the bottle at the end of a session
# electricity = "0.30"        # a kWh
# hammer_hour = "1.5 kWh"     # the power hammer, in an hour of its work
# shop_hour = "0.8 kWh"       # blower, light and machines, in an hour of work

# [overhead]
# sellable_hours = 900        # a year; commonly 50 to 65 % of the hours worked
# in_rates = false            # true, and no yearly costs: the rates hold the overhead already

# [overhead.year]             # yearly costs, under any name
# rent = "4800"
# insurance = "900"

# [tax]
# name = "VAT"
# share = "20 %"              # "0 %" where none is due

# [quote]
# design = "1 h"              # what an order usually takes of it; also lay_out, pack
# remakes = "4 %"             # pieces made again, until the record is long enough
# margin = "10 %"             # on top of the costs
# minimum = "60"              # no order costs less, tax left out
# deposit = "30 %"            # of the price with tax
# valid_days = 30             # how long an offer holds
"""

TOOLS = """\
# Tools and jigs of the shop. A recipe asks for them by name; the lay-out then says what is there,
# what is to be made and how it is set. forgelog never writes to this file.

# [[tool]]
# name = "16 mm mandrel"
# also = ["eye mandrel"]      # other names of it in recipes
# state = "have"              # have, to be made, to be repaired, proved
# setting = ""                # how it is set at present

# [[tool]]
# name = "hook jig"
# jig = true
# state = "to be made"
"""

STOCK = """\
# Bars on the rack, and labelled rests that are worth keeping. forgelog never writes to this file.

# [[bar]]
# section = "25 x 12 mm flat" # or "12 mm square", "16 mm round", "1/2 in square"
# long = "3 m"                # each
# count = 2
# steel = "mild"
# where = "rack, left"

# [[offcut]]
# label = "B2"
# section = "25 mm square"
# long = "340 mm"
"""


def make_book(book: Path, recipes: Iterable[Path] = ()) -> tuple[Path, ...]:
    """Make a book's folder. Nothing that is there already is touched.

    Args:
        book: The folder; it may be there, but must be empty.
        recipes: Recipe files to copy into it.

    Returns:
        The files that were made.

    Raises:
        FileExistsError: something lies in the folder already, or it is a file.
        OSError: it cannot be made.
    """
    if book.exists() and (not book.is_dir() or any(book.iterdir())):
        raise FileExistsError(f"{book} is there already and is not empty")
    files = {
        book / "tools.toml": TOOLS.encode(),
        book / "stock.toml": STOCK.encode(),
        **{book / "recipes" / recipe.name: recipe.read_bytes() for recipe in recipes},
        # Last: a folder is a book once this file lies in it.
        book / "shop.toml": SHOP.encode(),
    }
    for folder in (book, book / "recipes", book / "journal", book / "customers"):
        make_folder(folder)
    for path, data in files.items():
        write_new(path, data)
    return tuple(files)
