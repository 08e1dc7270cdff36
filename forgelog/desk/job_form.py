"""The finished forms of an order's components, as the recipe's file tells them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forgelog.desk.errors import CannotDo
from forgelog.desk.job_told import FormPart
from forgelog.desk.shop import Shop
from forgelog.recipe.form import solid_dims
from forgelog.recipe.resolve import process_hash
from forgelog.recipe.resolved import Recipe
from forgelog.recipe.step_words import StepWords
from forgelog.recipe.written import WrittenSolid
from forgelog.trade.sections import Section, show_section
from forgelog.trade.solids import Dim

Forms = Mapping[str, tuple[WrittenSolid, ...]]
"""Simple forms by component."""


def forms_of(shop: Shop, recipe: Recipe) -> Forms:
    """The forms of the recipe's file; nothing where it is no longer the one that is worked from."""
    try:
        written = shop.recipe(recipe.id)
    except CannotDo:
        return {}
    if process_hash(written) != recipe.process_hash:
        return {}
    return {component.id: tuple(component.form) for component in written.component}


def form_of(forms: Forms, recipe: Recipe, component: str, words: StepWords) -> tuple[FormPart, ...]:
    """The forms of one component at the order's sizes.

    Args:
        forms: As `forms_of` gave them.
        recipe: At the order's sizes.
        component: Its id.
        words: Units and dialect.
    """
    return tuple(_parts(forms.get(component, ()), recipe, words))


def _parts(form: tuple[WrittenSolid, ...], recipe: Recipe, words: StepWords) -> Iterator[FormPart]:
    for solid in form:
        dims = solid_dims(solid, recipe.sizes_mm)
        if dims is None:
            continue
        says = f"{solid.solid}: " + ", ".join(
            f"{key.replace('_', ' ')} {_dim(dim, words)}" for key, dim in dims.items()
        )
        says = f"{solid.times} times {says}" if solid.times > 1 else says
        yield FormPart(solid=solid.solid, dims=dims, times=solid.times, words=says)


def _dim(dim: Dim, words: StepWords) -> str:
    if isinstance(dim, Section):
        return show_section(dim, words.look.units)
    return dim if isinstance(dim, str) else words.length(dim)
