"""Home on a real book of the shipped recipes with two orders, in the folder of FORGELOG_BOOK."""

from __future__ import annotations

import os
import sys
from pathlib import Path

if not Path(os.environ["FORGELOG_BOOK"], "shop.toml").exists():
    from forgelog.book.new_book import make_book
    from forgelog.book.shipped import shipped_recipes
    from forgelog.desk.orders import take_order
    from forgelog.desk.shop import open_shop

    make_book(Path(os.environ["FORGELOG_BOOK"]), shipped_recipes())
    for recipe in ("gate-hinge-set", "leaf-coat-hooks"):
        take_order(open_shop(), recipe, count=2)

from forgelog.__main__ import main

sys.exit(main([]))
