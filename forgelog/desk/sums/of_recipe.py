"""The stock of a component as its recipe has it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from forgelog.desk.sums.asking import CannotSum

if TYPE_CHECKING:
    from forgelog.recipe.resolved import Stock


def stock_of_recipe(
    recipe: str, component: str, sizes: list[str], book: str | None
) -> tuple[str, Stock]:
    """The name and stock of a component.

    Args:
        recipe: A file, or the id of a recipe in the book or shipped.
        component: Its id or name; "" where only one has stock.
        sizes: Sizes of the order: "post=120mm".
        book: The book's folder as told, or None.

    Raises:
        CannotSum: no such recipe or component, or one without stock.
    """
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.orders import read_sizes
    from forgelog.desk.recipes import CannotRead, find_recipe, read_recipe_file
    from forgelog.recipe.plain import did_you_mean, listed, quoted
    from forgelog.recipe.resolve import ResolveError, resolve

    try:
        read = read_recipe_file(find_recipe(recipe, Path(book) if book else None))
    except CannotRead as cannot:
        raise CannotSum(str(cannot)) from None
    if read.recipe is None:
        errors = "\n".join(p.text for p in read.problems if p.severity == "error")
        raise CannotSum(f"the recipe has errors; put them right first:\n{errors}")
    try:
        resolved = resolve(read.recipe, read_sizes(sizes))
    except CannotDo as problem:
        raise CannotSum(f"--size: {problem}") from None
    except ResolveError as error:
        raise CannotSum("\n".join(problem.text for problem in error.problems)) from None
    parts = {one.id: one for one in resolved.components if one.stock is not None}
    if not parts:
        raise CannotSum(f"{quoted(recipe)} cuts nothing from stock")
    wanted = component or (next(iter(parts)) if len(parts) == 1 else "")
    found = parts.get(wanted) or next((one for one in parts.values() if one.name == wanted), None)
    if found is None or found.stock is None:
        hint = did_you_mean(wanted, parts) if wanted else ""
        words = f"--component wants one of {listed(parts)}"
        raise CannotSum(f"{words}\n    {hint}" if hint else words)
    return f"{resolved.name}, {found.name}", found.stock
