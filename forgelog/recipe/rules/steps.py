"""Rules of steps: their kind, what that kind needs, and the order in which they can stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec

from forgelog.recipe.heats import rest_goal
from forgelog.recipe.kinds import HEAT_KINDS, KEYS_OF, KINDS, kind_of
from forgelog.recipe.plain import listed, quoted
from forgelog.recipe.problems import Fault, Path
from forgelog.recipe.rules.found import Found, all_components, all_steps, missing, wrong
from forgelog.recipe.slugs import step_slugs
from forgelog.recipe.written import WrittenRecipe, WrittenStep

_WITH_HEATS = "add heats by method, like heats = { hand = 3, power = 2 }"


def kinds_are_known(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What a step is can be told from its verb, its heats or its rest."""
    for path, step in all_steps(recipe):
        if step.do and kind_of(step) is None:
            found = "does not say what kind of step it is"
            expected = f"{_WITH_HEATS}, or a kind: {listed(KINDS)}"
            yield missing(path, found, expected)


def steps_have_what_they_need(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """A forging step has heats, a rest an end, a heat treatment its heat, hardening its quench."""
    for path, step in all_steps(recipe):
        kind = kind_of(step)
        if kind == "forge" and (step.heats is None or not _named(step.heats)):
            yield missing(path, "plans no heats", _WITH_HEATS)
        elif kind == "rest" and step.until is None:
            yield missing(
                path, "has no end to its rest", 'add until = "black", "hand-warm" or "cold"'
            )
        elif kind in HEAT_KINDS and step.at is None:
            yield missing(
                path, f"has no heat to {kind} at", 'add at = "870 degC", as the steel wants'
            )
        if kind == "harden" and step.quench is None:
            yield missing(path, "has no quench", 'add quench = "oil", "water", "brine" or "air"')


def keys_suit_the_kind(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """No step has a key that means nothing for its kind."""
    for path, step in all_steps(recipe):
        kind = kind_of(step)
        if kind is None:
            continue
        for key, name, default in _DEFAULTS:
            value = getattr(step, name)
            if value and value != default and kind not in KEYS_OF[key]:
                kinds = [_work(one) for one in KINDS if one in KEYS_OF[key]]
                found = f"stands in a step that is {_work(kind)}"
                yield wrong((*path, key), found, f"it belongs to {listed(kinds)}")


def rests_end(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """What a rest waits for can be read."""
    for path, step in all_steps(recipe):
        goal = rest_goal(step.until) if step.until else None
        if isinstance(goal, Fault):
            yield Found(path=(*path, "until"), fault=goal)


def step_ids_differ(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Each step of a component can be told from the others by its id or its words."""
    for path, component in all_components(recipe):
        seen: dict[str, int] = {}
        for number, step in enumerate(component.step):
            at: Path = (*path, "step", number)
            names = step_slugs(step)
            name = names[0]
            if step.do and not name.strip("-0123456789"):
                yield wrong((*at, "do"), f"is {quoted(step.do)}", "write it in letters")
                continue
            first = next((seen[name] + 1 for name in names if name in seen), None)
            if first is not None and step.id:
                found = f"is {quoted(step.id)}, as step {first} is called already"
                yield wrong((*at, "id"), found, "give each step its own")
            elif first is not None and step.do:
                found = f"is {quoted(step.do)}, as is step {first}"
                yield wrong((*at, "do"), found, f'give this one an id, like id = "{name}-2"')
            for one in names:
                seen.setdefault(one, number)


def follows_a_heat(recipe: WrittenRecipe, sizes_mm: Mapping[str, float]) -> Iterator[Found]:
    """Only a forging step can follow in the same heat, and only after another."""
    for path, component in all_components(recipe):
        before: WrittenStep | None = None
        for number, step in enumerate(component.step):
            if step.follows and kind_of(step) == "forge":
                at = (*path, "step", number, "follows")
                if before is None:
                    yield wrong(at, "stands in the first step", "take it out: no heat goes before")
                elif (kind := kind_of(before)) is not None and kind != "forge":
                    found = f"stands after a step that is {_work(kind)}"
                    yield wrong(at, found, "take it out: the heat has ended")
            before = step


def tempered_after_hardening(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """A temper comes after a harden of the same component."""
    for path, component in all_components(recipe):
        hardened = False
        for number, step in enumerate(component.step):
            kind = kind_of(step)
            hardened = hardened or kind == "harden"
            if kind == "temper" and not hardened:
                at: Path = (*path, "step", number)
                yield wrong(at, "tempers what has not been hardened", "harden it in a step before")


def _named(heats: msgspec.Struct) -> bool:
    return any(value is not None for value in msgspec.structs.asdict(heats).values())


def _work(kind: str) -> str:
    words = {"forge": "forging", "bench": "bench work", "anneal": "an anneal"}
    return words.get(kind, f"a {kind}")


_PLAIN = WrittenStep(do="")

_DEFAULTS = tuple(
    (key, name, getattr(_PLAIN, name))
    for key, name in zip(
        WrittenStep.__struct_encode_fields__, WrittenStep.__struct_fields__, strict=True
    )
    if key in KEYS_OF
)

RULES = (
    kinds_are_known,
    steps_have_what_they_need,
    keys_suit_the_kind,
    rests_end,
    step_ids_differ,
    follows_a_heat,
    tempered_after_hardening,
)
