"""The page of a session: what was worked, what it took, which rests were kept."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from forgelog.desk.review_facts import BenchTold, PairTold, RestTold, Review, StepTold
from forgelog.desk.review_first import METHOD_WORDS
from forgelog.desk.review_pages import (
    asked_lines,
    kept_lines,
    next_words,
    short_minutes,
    spoilt_lines,
    total_words,
    unusual_lines,
)
from forgelog.desk.review_rests import rested_words
from forgelog.desk.review_words import counted, day_words
from forgelog.sheets.blocks import AnyBlock, Facts, Part, Picture, Points, Room, Sheet, Table, Words
from forgelog.sheets.timeline_svg import draw_timeline

WHOLE = 100_000
"""Letters in a line: the sheet breaks lines itself."""


def session_sheet(review: Review) -> Sheet:
    """The page of the session that a review shows."""
    began = _began(review)
    practice = "PRACTICE " if review.practice else ""
    return Sheet(
        kind=f"{practice}SESSION",
        title=began,
        head=f"{practice}SESSION  {began}",
        foot=f"session {review.shown_session}, told by forgelog",
        lead=tuple(_lead(review)),
        parts=tuple(_parts(review)),
    )


def _began(review: Review) -> str:
    line = review.timeline
    return day_words(datetime.fromisoformat(line.began)) if line else review.shown_session


def _lead(review: Review) -> Iterator[AnyBlock]:
    one = next((s for s in review.sessions if s.session == review.shown_session), None)
    if one is not None:
        ended = f"{one.ended}; {one.where}" if one.where else one.ended
        yield Facts(
            rows=(
                ("Orders", ", ".join(one.orders) or "none"),
                ("By", one.who or "nobody named"),
                ("Fire", f"{one.fire}, {METHOD_WORDS.get(one.method, one.method)}"),
                ("Heats", str(one.heats)),
                ("Ended", ended),
            )
        )
    yield Words(words=review.first, strong=True)


def _parts(review: Review) -> Iterator[Part]:
    also = [finding.sentence for finding in review.findings[1:]]
    if also:
        yield Part(title="Also worth knowing", blocks=(Points(items=tuple(also), sign="-"),))
    if review.timeline is not None:
        drawn = draw_timeline(review.timeline)
        pictures = (Picture(drawing=drawn),) if drawn is not None else ()
        words = Words(words=total_words(review.timeline))
        yield Part(title="The time", blocks=(*pictures, words))
    for recipe, name in review.recipes.items():
        steps = [step for step in review.steps if step.recipe == recipe]
        if steps:
            yield Part(title=f"Heats: {name}", blocks=(_heats(steps),))
        bench = [step for step in review.bench if step.recipe == recipe]
        if bench:
            yield Part(title=f"Bench: {name}", blocks=(_bench(bench),))
    if review.rests.each:
        yield Part(title="Rests, piece by piece", blocks=(_rests(review.rests.each),))
    for pair in review.pairs:
        yield Part(title=f"Side by side: {pair.title}", blocks=tuple(_pair(pair)))
    for title, lines in (
        ("Rests", kept_lines(review, WHOLE)),
        ("Spoilt and trouble", spoilt_lines(review, WHOLE)),
        ("Worth a question", unusual_lines(review, WHOLE)),
        ("To be put right: heats that nobody pressed", asked_lines(review, WHOLE)),
    ):
        items = tuple(_joined(lines))
        if items:
            yield Part(title=title, blocks=(Points(items=items, sign="-"),))
    yield Part(title="Notes", blocks=(Room(title="What the next time is done otherwise", lines=6),))


def _joined(lines: Iterator[str]) -> Iterator[str]:
    """Lines, each with those that are set in under it."""
    item = ""
    for line in lines:
        if line.startswith(" ") and item:
            item += f"; {line.strip()}"
            continue
        if item:
            yield item
        item = line.strip()
    if item:
        yield item


def _heats(steps: list[StepTold]) -> Table:
    rows = tuple(
        (
            step.component_name,
            step.do,
            step.method,
            "-" if step.planned_heats is None else str(step.planned_heats),
            " ".join("?" if heats is None else str(heats) for heats in step.taken_heats) or "-",
            next_words(step),
        )
        for step in steps
    )
    return Table(
        head=("component", "step", "method", "plan", "taken", "next, most often"),
        rows=rows,
        right=frozenset({3}),
    )


def _rests(rests: tuple[RestTold, ...]) -> Table:
    rows = tuple((r.piece, r.do, r.verdict, rested_words(r), r.by_sum or "-") for r in rests)
    return Table(head=("piece", "rest", "verdict", "rested", "by the sum"), rows=rows)


def _pair(pair: PairTold) -> Iterator[AnyBlock]:
    rows = tuple((line.do, line.measure, *line.shown) for line in pair.lines)
    yield Table(head=("step", "measure", *pair.pieces), rows=rows)
    odd = [f"{line.do}, {line.differs}" for line in pair.lines if line.differs]
    if pair.master:
        odd.insert(0, f"The others are gauged against {pair.master}.")
    yield Points(items=tuple(odd) or ("Alike in every step.",), sign="-")


def _bench(steps: list[BenchTold]) -> Table:
    rows = tuple(
        (
            step.component_name,
            step.do,
            f"{short_minutes(step.planned_min)} min",
            " ".join(map(short_minutes, step.taken_min)) or "-",
            _steady(step),
        )
        for step in steps
    )
    return Table(
        head=("component", "step", "plan", "taken, min", "steady, most often"),
        rows=rows,
        right=frozenset({2}),
    )


def _steady(step: BenchTold) -> str:
    told = step.next
    if told is None:
        return "the plan: not enough yet"
    low, high = short_minutes(told.low_min), short_minutes(told.high_min)
    records = counted(told.records, "record")
    return f"{short_minutes(told.steady_min)} min ({low} to {high}), from {records}"
