"""How long learning takes over ten years of rows, made up; run alone on a quiet machine.

python -m tests.bench.learn_years [ROWS]        100,000 where no number is told
"""

from __future__ import annotations

import random
import sys
import time
from collections import deque
from collections.abc import Callable
from functools import partial

import msgspec

from forgelog.learn.heats import learn_heats
from forgelog.learn.known_minutes import know_minutes
from forgelog.learn.records import heat_records
from forgelog.learn.row_making import make_rows
from forgelog.learn.rows import StepRow
from forgelog.learn.rule import MOST_RECORDS, StepKey
from forgelog.learn.suggest import Grounds, suggest
from forgelog.recipe.resolved import Recipe
from tests.learn.shop import LEFT, RECIPE, Shop

STEPS = 300
TRIES = 5


def make_years(count: int, seed: int = 1) -> list[StepRow]:
    """So many rows of forging steps, on 300 steps of 40 recipes."""
    shop = Shop()
    shop.open_order()
    shop.forge(LEFT, "draw", 3)
    (row,) = make_rows(shop.state).steps
    rng = random.Random(seed)
    rows: list[StepRow] = []
    for n in range(count):
        step = rng.randrange(STEPS)
        rows.append(
            msgspec.structs.replace(
                row,
                recipe=f"recipe-{step % 40}",
                step=f"step-{step}",
                workpiece=f"o{n // 8}/strap/{n % 8}",
                heats=rng.randint(2, 6),
                run=n % 8 + 1,
                ended_s=1e9 + 60.0 * n,
            )
        )
    return rows


def newest(rows: list[StepRow]) -> list[StepRow]:
    """The last rows of each step, as the index keeps them together."""
    last: dict[StepKey, deque[StepRow]] = {}
    for row in rows:
        last.setdefault(row.key, deque(maxlen=MOST_RECORDS)).append(row)
    return sorted((row for rows in last.values() for row in rows), key=lambda row: row.ended_s)


def best_ms(deed: Callable[[], object]) -> float:
    """The best of some tries, by the processor's clock, ms."""
    times: list[float] = []
    for _ in range(TRIES):
        began = time.process_time()
        deed()
        times.append(time.process_time() - began)
    return 1000.0 * min(times)


def main(words: list[str]) -> None:
    """Print the times."""
    rows = make_years(int(words[0]) if words else 100_000)
    strap = RECIPE.components[0]
    recipes: dict[str, Recipe] = {}
    for n in range(40):
        steps = tuple(
            msgspec.structs.replace(strap.steps[0], id=f"step-{s}") for s in range(n, STEPS, 40)
        )
        part = msgspec.structs.replace(strap, steps=steps)
        recipes[f"recipe-{n}"] = msgspec.structs.replace(
            RECIPE, id=f"recipe-{n}", components=(part,)
        )
    kept = newest(rows)
    for name, rows_of in (("every row", rows), ("the index's last rows of each step", kept)):
        sys.stdout.write(f"{name}: {len(rows_of)}\n")
        records = heat_records(rows_of)
        grounds = Grounds(recipes=recipes, steps=rows_of)
        for deed_name, deed in (
            ("rows to records", partial(heat_records, rows_of)),
            ("heats learnt from records", partial(learn_heats, records)),
            ("minutes learnt from rows", partial(know_minutes, rows_of)),
            ("suggestions from rows", partial(suggest, grounds)),
        ):
            sys.stdout.write(f"  {deed_name:28}{best_ms(deed):8.0f} ms\n")


if __name__ == "__main__":
    main(sys.argv[1:])
