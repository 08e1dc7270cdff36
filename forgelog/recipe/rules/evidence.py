"""Rules of what a shared recipe carries beside the process."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from forgelog.recipe.plain import quoted
from forgelog.recipe.problems import Path
from forgelog.recipe.process import process_hash
from forgelog.recipe.rules.found import Found, doubtful, wrong
from forgelog.recipe.slugs import step_slugs
from forgelog.recipe.written import WrittenRecipe


def no_row_of_evidence_stands_twice(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """Of each step and method, of each rest and of each cause one row."""
    evidence = recipe.evidence
    if evidence is None:
        return
    rows = (
        ("steps", [(row.component, row.step, row.by or "") for row in evidence.steps]),
        ("rests", [(row.component, row.step, "") for row in evidence.rests]),
        ("spoilt", [(row.component, row.step, row.why) for row in evidence.spoilt]),
    )
    for name, keys in rows:
        seen: dict[tuple[str, str, str], int] = {}
        for number, key in enumerate(keys):
            if (first := seen.setdefault(key, number)) != number:
                path: Path = ("evidence", name, number)
                yield wrong(
                    path, f"speaks of the same again, like row {first + 1}", "leave one of them"
                )


def figures_of_evidence_go_together(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """Least, middle and most rise; the verdicts on a rest are no more than its pieces."""
    evidence = recipe.evidence
    if evidence is None:
        return
    for number, row in enumerate(evidence.steps):
        heats = row.heats
        if heats is not None and not heats.least <= heats.middle <= heats.most:
            found = f"go {heats.least}, {heats.middle}, {heats.most}"
            yield wrong(
                ("evidence", "steps", number, "heats"), found, "least, middle and most rise"
            )
    for number, rest in enumerate(evidence.rests):
        told = rest.kept + rest.unsure + rest.short + rest.skipped
        if told > rest.pieces:
            found = f"is {rest.pieces}, and {told} verdicts are told"
            yield wrong(("evidence", "rests", number, "pieces"), found, "one verdict a piece")


def evidence_is_of_this_process(
    recipe: WrittenRecipe, sizes_mm: Mapping[str, float]
) -> Iterator[Found]:
    """The checksum is that of the process as it stands, and the steps are its own."""
    shared, evidence = recipe.shared, recipe.evidence
    if shared is not None and shared.process != (now := process_hash(recipe)):
        yield doubtful(
            ("shared", "process"),
            f"is {shared.process}, but the process as it stands here has {now}",
            "it was changed since it was shared; its evidence speaks of another process",
        )
    if evidence is None:
        return
    known = {
        (component.id, slug)
        for component in recipe.component
        for step in component.step
        for slug in step_slugs(step)
    }
    rows = (
        *((("steps", n), row.component, row.step) for n, row in enumerate(evidence.steps)),
        *((("rests", n), row.component, row.step) for n, row in enumerate(evidence.rests)),
        *((("spoilt", n), row.component, row.step) for n, row in enumerate(evidence.spoilt)),
    )
    for place, component, step in rows:
        if component and step and (component, step) not in known:
            yield doubtful(
                ("evidence", *place, "step"),
                f"is {quoted(step)} of {quoted(component)}, which the recipe has not",
                "this row is passed over",
            )


RULES = (no_row_of_evidence_stands_twice, figures_of_evidence_go_together)
DOUBTS = (evidence_is_of_this_process,)
