"""Rules of components and bought parts: ids, hands, assemblies, stock and the finished form."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from forgelog.recipe.form import NoVolume, form_volume_mm3, solid_keys
from forgelog.recipe.plain import did_you_mean, listed, quoted
from forgelog.recipe.problems import Path
from forgelog.recipe.rules.found import (
    Found,
    all_components,
    all_steps,
    missing,
    need_of,
    section_of,
    wrong,
)
from forgelog.recipe.written import WrittenRecipe, WrittenSolid
from forgelog.trade.sections import SectionError, area_mm2
from forgelog.trade.solids import SOLIDS


def there_is_a_component(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A recipe makes something."""
    if not recipe.component:
        yield wrong(("component",), "is missing", "add a [[component]] with its steps")


def ids_differ(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """No two components have the same id."""
    seen: set[str] = set()
    for path, component in all_components(recipe):
        if component.id and component.id in seen:
            found = f"is {quoted(component.id)}, which an earlier component has"
            yield wrong((*path, "id"), found, "give each component its own")
        seen.add(component.id)


def hands_divide_each(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Hands or variants come in whole sets."""
    for path, component in all_components(recipe):
        if component.hands and component.variant:
            found = "stands beside hands"
            yield wrong((*path, "variant"), found, "write hands or variant, not both")
            continue
        key = "hands" if component.hands else "variant"
        marks = component.hands or component.variant
        if not marks:
            continue
        twice = [mark for mark, count in Counter(marks).items() if count > 1 and mark]
        if len(marks) == 1 or twice:
            found = f"has {quoted(twice[0])} twice" if twice else "has only one in its list"
            yield wrong((*path, key), found, "name each one once, two or more in all")
        elif component.each % len(marks):
            at: Path = (*path, "each")
            found = (
                f"is {component.each}, which cannot be shared out over {key} {listed(marks, 'and')}"
            )
            yield wrong(at, found, f"write a multiple of {len(marks)}")


def needs_can_be_met(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """An assembly takes up components that there are, and no more than there are."""
    made = {c.id: c.each for c in recipe.component if c.id}
    taken: Counter[str] = Counter()
    for path, component in all_components(recipe):
        own: set[str] = set()
        for number, need in enumerate(component.needs):
            at = (*path, "needs", number)
            name, count = need_of(need)
            if not name:
                continue
            if name not in made:
                found = f"is {quoted(name)}, which is no component"
                expected = f"the components are {listed(made, 'and')}"
                yield wrong(at, found, expected, did_you_mean(name, made))
                continue
            if name in own:
                found = f"is {quoted(name)} once more"
                yield wrong(
                    at,
                    found,
                    f'write it once, with its count: {{ component = "{name}", count = 2 }}',
                )
                continue
            own.add(name)
            before, taken[name] = taken[name], taken[name] + count * component.each
            if before <= made[name] < taken[name]:
                found = f"takes up {taken[name]} of {quoted(name)}, and each set has {made[name]}"
                yield wrong(at, found, f"make more, each = {taken[name]}, or take up less")


def needs_make_no_circle(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """No component goes into itself, even by way of others."""
    needs = {c.id: [need_of(need)[0] for need in c.needs] for c in recipe.component}
    for path, component in all_components(recipe):
        below: set[str] = set()
        still = list(needs[component.id])
        while still:
            name = still.pop()
            if name not in below and name in needs:
                below.add(name)
                still.extend(needs[name])
        if component.id and component.id in below:
            found = f"leads from {quoted(component.id)} back to {quoted(component.id)}"
            yield wrong((*path, "needs"), found, "a piece cannot go into itself")


def stock_is_bar(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Stock has a section with an area, so that a length can be cut."""
    for path, component in all_components(recipe):
        section = section_of(component.stock.section) if component.stock else None
        if section is None:
            continue
        try:
            area_mm2(section)
        except SectionError as error:
            found = f"is {quoted(error.found)}, which {error.problem}"
            yield wrong((*path, "stock", "section"), found, f"write {error.expected}")


def solids_are_known(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Each form is one of the simple forms, and has the keys that it needs and no others."""
    for path, component in all_components(recipe):
        for number, solid in enumerate(component.form):
            at = (*path, "form", number)
            if not solid.solid:
                continue
            if solid.solid not in SOLIDS:
                found = f"is {quoted(solid.solid)}, which is no form that is known here"
                expected = f"the forms are {listed(SOLIDS, 'and')}"
                hint = did_you_mean(solid.solid, SOLIDS)
                yield wrong((*at, "solid"), found, expected, hint)
            else:
                yield from _keys_of_solid(at, solid)


def _keys_of_solid(at: Path, solid: WrittenSolid) -> Iterator[Found]:
    kind = SOLIDS[solid.solid]
    given = solid_keys(solid)
    takes = [*kind.needs, *kind.one_of]
    name = quoted(solid.solid)
    for key, says in kind.needs.items():
        if key not in given:
            yield missing(at, f"has no {key}, which {name} needs", f"add {key}: {says}")
    for key in given:
        if key not in takes:
            found = f"does not belong to {name}"
            yield wrong((*at, key), found, f"it takes {listed(takes, 'and')}")
    chosen = [key for key in kind.one_of if key in given]
    if kind.one_of and len(chosen) != 1:
        found = (
            f"has both {listed(chosen, 'and')}" if chosen else f"has none of {listed(kind.one_of)}"
        )
        yield wrong(at, found, f"{name} takes exactly one of {listed(kind.one_of)}")
    if solid.thread:
        from forgelog.trade.threads import ThreadError, thread

        try:
            thread(solid.thread)
        except ThreadError as error:
            found = f"is {quoted(error.found)}, which {error.problem}"
            hint = f'did you mean "{error.hint}"?' if error.hint else ""
            yield wrong((*at, "thread"), found, f"write {error.expected}", hint)


def form_has_volume(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """The forms that can be read come to a solid with some steel in it."""
    for path, component in all_components(recipe):
        volume = form_volume_mm3(component.form, sizes_mm)
        if isinstance(volume, NoVolume):
            yield Found(path=(*path, "form", volume.number), fault=volume.fault)
        elif component.form and volume is not None and volume <= 0:
            yield wrong((*path, "form"), "takes away all that it has", "leave some steel")


def matches_are_gauged(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A size that a pair must share is gauged in some step."""
    for path, component in all_components(recipe):
        gauged = {gauge.what for step in component.step for gauge in step.gauge if gauge.what}
        for number, name in enumerate(component.match):
            if name and name not in gauged:
                found = f"is {quoted(name)}, which no step gauges"
                expected = (
                    f"the gauged sizes are {listed(sorted(gauged), 'and')}"
                    if gauged
                    else "add a gauge with this name to a step"
                )
                yield wrong((*path, "match", number), found, expected, did_you_mean(name, gauged))


def bought_parts_differ(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What is bought has an id of its own, and goes with a component that there is."""
    made = {component.id for component in recipe.component if component.id}
    seen: set[str] = set()
    for number, bought in enumerate(recipe.bought):
        path: Path = ("bought", number)
        if bought.id and (bought.id in seen or bought.id in made):
            whose = "an earlier one has" if bought.id in seen else "a component has"
            found = f"is {quoted(bought.id)}, which {whose}"
            yield wrong((*path, "id"), found, "give each its own")
        seen.add(bought.id)
        if bought.component and bought.component not in made:
            found = f"is {quoted(bought.component)}, which is no component"
            expected = f"the components are {listed(sorted(made), 'and')}" if made else ""
            yield wrong((*path, "for"), found, expected, did_you_mean(bought.component, made))


def tools_made_differ(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """A tool that the recipe makes is named once."""
    for number, name in enumerate(recipe.makes):
        if name and name in recipe.makes[:number]:
            yield wrong(("makes", number), f"is {quoted(name)} once more", "write it once")


def cautions_are_known(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Each caution is one that the program has words for."""
    rows: list[tuple[Path, list[str]]] = [(("cautions",), recipe.cautions)]
    rows += [((*path, "cautions"), step.cautions) for path, step in all_steps(recipe)]
    if not any(names for _, names in rows):
        return
    from forgelog.trade.cautions import CAUTIONS

    for path, names in rows:
        for number, name in enumerate(names):
            if name and name not in CAUTIONS:
                found = f"is {quoted(name)}, which is no caution that is known here"
                expected = f"the cautions are {listed(CAUTIONS, 'and')}"
                yield wrong((*path, number), found, expected, did_you_mean(name, CAUTIONS))


RULES = (
    there_is_a_component,
    ids_differ,
    hands_divide_each,
    needs_can_be_met,
    needs_make_no_circle,
    stock_is_bar,
    solids_are_known,
    form_has_volume,
    matches_are_gauged,
    bought_parts_differ,
    tools_made_differ,
    cautions_are_known,
)
