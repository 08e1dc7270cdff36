from __future__ import annotations

from pathlib import Path

from forgelog.book.folders import mark_as_practice
from forgelog.book.sessions import journal_files
from forgelog.desk.clock import FakeClock
from forgelog.desk.done_with import call_off
from forgelog.desk.first_look import first_look
from forgelog.desk.home import HomeView, home, session_time
from forgelog.desk.orders import find_order, hold_order, take_order
from forgelog.desk.review_words import day_words, local_time
from forgelog.desk.session import start
from forgelog.desk.shop import Shop
from forgelog.work.facts import RestEnded
from tests.desk.working import work


def now(shop: Shop, clock: FakeClock) -> HomeView:
    return home(shop.again(), clock.stamp())


def needs(view: HomeView, kind: str) -> list[str]:
    return [n.words for n in view.needs if n.kind == kind]


def taken(shop: Shop, clock: FakeClock, **more: object) -> str:
    clock.go_on(60.0)
    return take_order(shop.again(), "test-pin", clock=clock, **more).id  # type: ignore[arg-type]


def test_an_empty_book_needs_nothing(shop: Shop, clock: FakeClock) -> None:
    view = now(shop, clock)
    assert view.orders == ()
    assert view.sessions == ()
    assert view.resume is None
    assert view.needs == ()
    assert view.shop == "book"
    assert not view.practice_copy


def test_open_orders_are_listed_with_their_date_and_how_far_they_are(
    shop: Shop, clock: FakeClock
) -> None:
    taken(shop, clock, label="later", promised="2026-02-04")
    taken(shop, clock, label="late", promised="2026-01-28")
    gone = taken(shop, clock, label="gone")
    call_off(shop.again(), find_order(shop.again().state, gone), "given up", clock=clock)
    first, second = now(shop, clock).orders
    assert (first.order.label, first.due, first.late) == ("late", "2 days late", True)
    assert (second.order.label, second.due, second.late) == ("later", "in 5 days", False)
    assert first.order.progress.words == "0 of 9 steps"


def test_recipes_are_listed_with_what_they_say_and_their_faults(
    shop: Shop, clock: FakeClock
) -> None:
    (shop.book / "recipes" / "bad.toml").write_text('format = 1\nid = "bad"\n')
    (shop.book / "shop.toml").write_text('name = "Our forge"\nlihgt = "dim"\n')
    view = now(shop, clock)
    assert view.shop == "Our forge"
    by_id = {r.id: r for r in view.recipes}
    assert by_id["test-pin"].name == "Pin for tests"
    assert by_id["test-pin"].says == "Two pins and a wedge that nobody needs"
    assert by_id["test-pin"].usable
    assert not by_id["bad"].usable
    assert "error" in by_id["bad"].problems
    assert needs(view, "recipe")[0].startswith("bad.toml has ")
    assert needs(view, "settings") == ["shop.toml:2: lihgt is no key that is known here"]


def test_past_sessions_are_listed_newest_first(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock, label="gate")
    for _ in range(3):
        clock.go_on(3600.0)
        session = start(shop.again(), [order], clock=clock)
        session.close()
    view = now(shop, clock)
    assert len(view.sessions) == 3
    assert view.sessions[0].session == session.id
    assert view.sessions == tuple(sorted(view.sessions, key=lambda s: s.session, reverse=True))
    assert view.sessions[0].orders == ("gate",)
    assert view.sessions[0].words.endswith(", gate")


def test_a_session_that_was_cut_off_is_offered(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    session = start(shop.again(), [order], clock=clock)
    work(session, clock, 5)
    session.close()
    view = now(shop, clock)
    assert view.resume is not None
    assert view.resume.session == session.id
    call_off(shop.again(), find_order(shop.again().state, order), "given up", clock=clock)
    assert now(shop, clock).resume is None


def test_missing_tools_of_open_orders_need_seeing_to(shop: Shop, clock: FakeClock) -> None:
    (shop.book / "tools.toml").write_text(
        '[[tool]]\nname = "bending jig"\nstate = "to be made"\n'
        '[[tool]]\nname = "small fuller"\nstate = "to be repaired"\n'
    )
    order = taken(shop, clock, label="gate")
    assert needs(now(shop, clock), "tools") == [
        "bending jig (to be made) holds up gate: bend the pin, since 2026-01-30",
        "small fuller (to be repaired) holds up gate: draw the point, since 2026-01-30",
    ]
    hold_order(shop.again(), find_order(shop.again().state, order), clock=clock)
    assert needs(now(shop, clock), "tools") == []


def test_lines_set_aside_need_seeing_to(shop: Shop, clock: FakeClock) -> None:
    taken(shop, clock)
    path: Path = journal_files(shop.book)[-1]
    path.write_bytes(path.read_bytes() + b"junk\n" * 6)
    words = needs(now(shop, clock), "journal")
    assert (
        words[0]
        == f"journal/2026/{path.name}:3: the line is cut short, or is no line of the journal"
    )
    assert words[3] == f"journal/2026/{path.name}: 3 more lines set aside"
    assert len(words) == 4


def test_a_changed_recipe_needs_seeing_to(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock, label="gate")
    start(shop.again(), [order], clock=clock).close()
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(path.read_text().replace("hand = 2", "hand = 3"))
    assert needs(now(shop, clock), "order") == [
        "gate: the recipe, a size or a bar has changed; the lay-out asks what to do"
    ]
    path.unlink()
    assert needs(now(shop, clock), "order")[0].startswith('gate: the book has no recipe "test-pin"')


def test_a_rest_that_matters_and_was_cut_short_needs_seeing_to(
    shop: Shop, clock: FakeClock
) -> None:
    path = shop.book / "recipes" / "test-pin.toml"
    path.write_text(
        path.read_text().replace('until = "black"', 'until = "black"\nskipping = "matters"')
    )
    order = taken(shop, clock, label="gate")
    session = start(shop.again(), [order], clock=clock)
    for _ in range(40):
        work(session, clock, 1)
        resting = [p for p in session.state.pieces.values() if p.place == "resting"]
        if resting:
            break
    piece = resting[0]
    ended = RestEnded(workpiece=piece.id, step="rest", rested_s=1.0, verdict="short")
    assert session._take(clock.stamp(), (ended,)), session.view().message
    session.close()
    assert needs(now(shop, clock), "rests") == [
        "gate: 1 rest that matters was not kept; the review tells them"
    ]


def test_a_contradiction_between_two_sessions_needs_seeing_to(shop: Shop, clock: FakeClock) -> None:
    order = taken(shop, clock)
    clock.go_on(60.0)
    first = start(shop.again(), [order], clock=clock)
    work(first, clock, 6)
    first.close()
    path = journal_files(shop.book)[-1]
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:1] + lines[2:]))
    view = now(shop, clock)
    assert any("1 press is missing" in words for words in needs(view, "journal"))
    assert needs(view, "record")


def test_a_practice_copy_says_so(shop: Shop, clock: FakeClock) -> None:
    mark_as_practice(shop.book)
    assert now(shop, clock).practice_copy


def test_a_session_is_told_by_the_time_it_began() -> None:
    assert session_time("20260130T081500Z-anvil7k-3f9q").startswith("Fri 30 Jan 2026, ")
    assert session_time("20260130T081500Z-anvil7k-3f9q", 120).endswith("10:15")
    assert session_time("scribble") == "scribble"


def test_a_past_session_is_told_in_the_time_of_day_that_its_smith_saw(shop: Shop) -> None:
    clock = FakeClock(offset=330)
    order = take_order(shop, "test-pin", clock=clock)
    start(shop.again(), [order.id], clock=clock).close()
    at = local_time(clock.stamp().wall, 330)
    (session,) = home(shop.again(), clock.stamp()).sessions
    assert session.when == day_words(at)
    assert first_look(shop.again(), clock.stamp()).resume == day_words(at)
