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
