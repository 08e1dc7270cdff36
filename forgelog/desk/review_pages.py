"""A review in words: titled pages of plain lines, for the shell and for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

import msgspec

from forgelog.desk.review_chart import draw_chart
from forgelog.desk.review_facts import (
    LAST_SESSIONS,
    BenchTold,
    LeftOut,
    RestTold,
    Review,
    SessionTold,
    StepTold,
    TimelineTold,
)
from forgelog.desk.review_first import METHOD_WORDS
from forgelog.desk.review_pairs import pair_lines
from forgelog.desk.review_rests import rest_lines
from forgelog.desk.review_words import counted, cut, day_words, folded
from forgelog.units import show_time

NARROWEST = 78
"""Columns within a window of 80."""
LAST_PIECES = 4
MOST_OFTEN = "A range is what happens most often, never an exact chance."


class Page(msgspec.Struct, frozen=True, kw_only=True):
    """A page of a review."""

    title: str
    lines: tuple[str, ...]
    """Final words, no wider than was asked for."""


def write_pages(
    review: Review, width: int, left: LeftOut | None = None, *, opening: bool = False
) -> tuple[Page, ...]:
    """The pages of a review; one that has nothing to say is left out.

    Args:
        review: What is told.
        width: Columns that no line is to exceed; below 78 it is taken for 78.
        left: How much of the past the review leaves out; None where it tells all.
        opening: Only the first pages, as far as an opening tells them.
    """
    width, left = max(NARROWEST, width), left or LeftOut()

    def _page(title: str, lines: Iterable[str]) -> Page:
        return Page(title=cut(title, width), lines=tuple(line.rstrip() for line in lines))

    pages = [
        _page("ALSO WORTH KNOWING", _also(review, width)),
        _page(*_timeline(review, width)),
        _page("SESSIONS", _sessions(review.sessions, width, left.sessions)),
    ]
    if opening:
        return tuple(page for page in pages if page.lines)
    pages += [
        *(
            _page(f"HEATS · {name}", _steps([s for s in review.steps if s.recipe == i], width))
            for i, name in review.recipes.items()
        ),
        *(
            _page(f"BENCH · {name}", _bench([b for b in review.bench if b.recipe == i], width))
            for i, name in review.recipes.items()
        ),
        _page("RESTS", kept_lines(review, width, left)),
        _page("RESTS, PIECE BY PIECE", rest_lines(review.rests.each, width)),
        _page("PAIRS AND SETS", _pairs(review, width, left)),
        _page("SPOILT AND TROUBLE", spoilt_lines(review, width, left)),
        _page("WORTH A QUESTION", unusual_lines(review, width)),
        _page("TO BE PUT RIGHT: HEATS THAT NOBODY PRESSED", asked_lines(review, width)),
    ]
    return tuple(page for page in pages if page.lines)


def _also(review: Review, width: int) -> Iterator[str]:
    """What is worth knowing beside the one thing that stands above."""
    for finding in review.findings[1:]:
        first, *more = folded(finding.words, width - 2)
        yield f"- {first}"
        yield from (f"  {line}" for line in more)
        yield from folded(finding.advice, width, "    ")


def _timeline(review: Review, width: int) -> tuple[str, list[str]]:
    line = review.timeline
    if line is None:
        return "SESSION", []
    day = day_words(datetime.fromisoformat(line.began))
    practice = "PRACTICE " if review.practice else ""
    return f"{practice}SESSION · {day}", [
        *draw_chart(line, width),
        *folded(total_words(line), width),
    ]


def total_words(line: TimelineTold) -> str:
    """How long it was, and what of it was worked."""
    words = [
        f"{_time(line.length_min)} from first press to last, {_time(line.worked_min)} worked.",
        f"In hand {_time(line.hand_min)}",
    ]
    if line.bench_min:
        words.append(f"and at the bench {_time(line.bench_min)}")
    if line.idle_share is not None:
        words.append(f"(hands idle {line.idle_share:.0%} of the time worked).")
    if line.lit_min:
        words.append(
            f"Fire lit {_time(line.lit_min)}, with something in it {_time(line.fire_min)}."
        )
    return " ".join(words)


def _pairs(review: Review, width: int, left: LeftOut) -> Iterator[str]:
    if left.orders:
        yield f"(without {counted(left.orders, 'earlier order')}; --json lists all)"
    yield from pair_lines(review.pairs, width)


def _sessions(sessions: Sequence[SessionTold], width: int, left: int) -> Iterator[str]:
    if not sessions:
        return
    orders_wide = max(16, min(36, width - 62))
    yield (
        f"{'no':>3}  {'began':17}  {'orders':{orders_wide}}  {'presses':>7}  {'heats':>5}"
        f"  {'hours':>5}  ended"
    )
    hidden = left + max(0, len(sessions) - LAST_SESSIONS)
    if hidden > 0:
        yield f"     ({counted(hidden, 'earlier session')}; --json lists all)"
    for one in sessions[-LAST_SESSIONS:]:
        began = datetime.fromisoformat(one.began)
        day = day_words(began).split(" ", 1)[1].replace(",", "")
        ended = f"{one.ended}, {one.where}" if one.where else one.ended
        row = (
            f"{one.number:3}  {day:>17}  {cut(', '.join(one.orders), orders_wide):{orders_wide}}"
            f"  {one.presses:7}  {one.heats:5}  {one.length_min / 60:5.1f}  "
        )
        yield row + cut(ended, width - len(row))


def _steps(steps: Sequence[StepTold], width: int) -> Iterator[str]:
    if not steps:
        return
    wide = width >= 96
    name_wide = width - (73 if wide else 58)
    head = f"  {'step':{name_wide}} {'method':8} {'plan':>4}  {'last ones':11}  next, most often"
    yield f"{head:{width - 15}} min in hand" if wide else head
    component = ""
    for step in steps:
        if step.component_name != component:
            component = step.component_name
            yield cut(component, width)
        plan = "-" if step.planned_heats is None else str(step.planned_heats)
        last = step.taken_heats[-LAST_PIECES:]
        taken = " ".join("?" if heats is None else str(heats) for heats in last) or "-"
        row = (
            f"  {cut(step.do, name_wide):{name_wide}} {cut(step.method, 8):8} {plan:>4}"
            f"  {cut(taken, 11):11}  {next_words(step):27}"
        )
        if wide and step.in_hand:
            time = step.in_hand
            low, high = short_minutes(time.low_min), short_minutes(time.high_min)
            row += f" {short_minutes(time.steady_min)} ({low}-{high})"
        yield row
    yield ""
    yield from folded(" ".join(_steps_notes(steps)), width)


def next_words(step: StepTold) -> str:
    """What the next piece will take most often."""
    if step.planned_heats is None:
        return "not planned by this method"
    if step.next is None:
        return "the plan: not enough yet"
    told = step.next
    reach = "" if told.low_heats == told.high_heats else f" ({told.low_heats}-{told.high_heats})"
    return f"{told.heats}{reach} from {told.records} of yours"


def _steps_notes(steps: Sequence[StepTold]) -> Iterator[str]:
    yield MOST_OFTEN
    if any(None in step.taken_heats[-LAST_PIECES:] for step in steps):
        yield "? stands for heats that nobody pressed."
    for number, words in (
        (sum(s.shared for s in steps), "a heat was shared with the step before or after"),
        (sum(s.corrected for s in steps), "heats were put right afterwards"),
        (sum(s.spoilt for s in steps), "it ended in scrap, which is not learnt from"),
    ):
        if number:
            yield f"{counted(number, 'time')} {words}."


def _bench(steps: Sequence[BenchTold], width: int) -> Iterator[str]:
    if not steps:
        return
    name_wide = width - 52
    yield f"  {'step':{name_wide}} {'plan':>4}  {'last ones':14}  steady, most often (min)"
    component = ""
    for step in steps:
        if step.component_name != component:
            component = step.component_name
            yield cut(component, width)
        taken = " ".join(short_minutes(one) for one in step.taken_min[-LAST_PIECES:]) or "-"
        told = step.next
        following = "the plan: not enough yet"
        if told is not None:
            reach = f"({short_minutes(told.low_min)}-{short_minutes(told.high_min)})"
            following = f"{short_minutes(told.steady_min)} {reach} from {told.records}"
        yield (
            f"  {cut(step.do, name_wide):{name_wide}} {short_minutes(step.planned_min):>4}"
            f"  {cut(taken, 14):14}  {following}"
        )
    yield ""
    yield from folded(
        "The first piece of a run takes about twice the steady time (common practice), "
        f"which is taken out of the steady figure. {MOST_OFTEN}",
        width,
    )


def kept_lines(review: Review, width: int, left: LeftOut | None = None) -> Iterator[str]:
    """How the rests were kept; what a fault risks stands under it, set in.

    Args:
        review: What is told.
        width: Columns that no line exceeds.
        left: How much the review leaves out; None where it tells all.
    """
    left = left or LeftOut()
    rests = review.rests
    counts = (
        (rests.kept, "kept"),
        (rests.unsure, "unsure"),
        (rests.short, "short"),
        (rests.skipped, "skipped"),
        (rests.broken, "broken"),
    )
    if not any(number for number, _ in counts):
        return
    yield ", ".join(f"{number} {word}" for number, word in counts) + "."
    faults = still_told(review, rests.faults)
    doubts = [rest for rest in still_told(review, rests.doubts) if rest.matters]
    for rest in (*faults, *doubts):
        yield from folded(f"{rest.piece}, {rest.do}: {_how(rest)}", width)
        if rest.verdict != "unsure":
            risk = f"risks {rest.risk}" if rest.normalising or ":" not in rest.risk else rest.risk
            yield from folded(f"{risk}. {rest.advice}".strip(), width, "    ")
    if older := left.faults + len(rests.faults) - len(faults):
        where = "on closed orders or scrapped pieces; --json lists all"
        yield f"({counted(older, 'older one')} {where})"
    if more := left.doubts + len(rests.doubts) - len(doubts):
        yield from folded(
            f"Of {counted(more, 'rest')} nobody can be sure: the cooling sum cannot tell, "
            "because draughts and thin ends cool otherwise.",
            width,
        )


def still_told(review: Review, rests: Iterable[RestTold]) -> list[RestTold]:
    """Rests of open orders and of the shown session; older ones are only counted."""
    return [rest for rest in rests if rest.open or rest.session == review.shown_session]


def _how(rest: RestTold) -> str:
    if rest.verdict == "broken":
        after = f", after {_time(rest.rested_min)}" if rest.rested_min else ""
        return f"broken by {rest.broken_by}{after}"
    if rest.verdict == "kept":
        return "cooled well, but does not count"
    words = rest.verdict
    if rest.rested_min and rest.needed_min:
        words += f", {_time(rest.rested_min)} of about {_time(rest.needed_min)}"
    return words


def spoilt_lines(review: Review, width: int, left: LeftOut | None = None) -> Iterator[str]:
    """What was spoilt, and what had trouble and was worked on.

    Args:
        review: What is told.
        width: Columns that no line exceeds.
        left: How much the review leaves out; None where it tells all.
    """
    left = left or LeftOut()
    for one in review.remakes:
        if not (one.open or one.in_shown):
            continue
        again = "made again" if one.remade_as else "no other made"
        why = f": {one.why}" if one.why else ""
        yield from folded(f"{one.piece}, {one.do}{why} ({again})", width)
    older = left.remakes + sum(not (one.open or one.in_shown) for one in review.remakes)
    if older:
        yield f"({counted(older, 'older piece')} on closed orders; --json lists all)"
    for trouble in review.troubles:
        words = trouble.words
        words = f"a step was done {words}" if words.startswith("again: ") else words
        yield from folded(f"{trouble.piece}: {words}", width)


def unusual_lines(review: Review, width: int) -> Iterator[str]:
    """Pieces that took unusually many heats, or few: each a question."""
    for one in review.unusual:
        yield from folded(
            f"{one.piece}, {one.do} {METHOD_WORDS.get(one.method, one.method)}: "
            f"{counted(one.taken_heats, 'heat')}, usually about {one.usual_heats:g}. Was it so?",
            width,
        )


def asked_lines(review: Review, width: int) -> Iterator[str]:
    """Heats that nobody pressed."""
    for ask in review.to_put_right:
        yield from folded(f"{ask.words}: {', '.join(ask.choices)}?", width)


def _time(minutes: float | None) -> str:
    return show_time(60.0 * (minutes or 0.0))


def short_minutes(minutes: float) -> str:
    """Minutes for a table: "0.8", "4.5", "12"."""
    return f"{minutes:.1f}" if minutes < 9.95 else f"{minutes:.0f}"
