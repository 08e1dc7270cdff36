"""Whatever people wrote stands on the page as plain text, and does nothing."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from forgelog.desk.clock import FakeClock
from forgelog.desk.job import job_of
from forgelog.desk.orders import find_order, take_order
from forgelog.desk.shop import Shop
from forgelog.sheets.blocks import (
    Cell,
    Check,
    Checks,
    Facts,
    Part,
    Points,
    Room,
    Row,
    Sheet,
    Step,
    Table,
    Words,
)
from forgelog.sheets.html import HEAD_EM, css_text, one_line, set_page
from forgelog.sheets.job import job_sheet
from forgelog.sheets.text import WIDTH, set_lines
from tests.sheets.reading import PageRead

HOSTILE = (
    "<script>alert(1)</script>",
    "</style><script>x</script>",
    '"; } body { background: url(//evil.example/x) } @page { content: "',
    "'; @import '//evil.example/a.css'; x { y: '",
    "{{ 7 * 7 }} {% include 'x' %} {# gone #}",
    '" onload="x" a="',
    "<svg onload=x><foreignObject>",
    "&lt;b&gt; &amp; &#60;",
    "]]> --> <!-- <![CDATA[",
    "\\3c script\\3e \\a } * { display: none",
    "left \u202egnitiehs\u202c end",
    "nul\x00bell\x07escape\x1b[2Jtab\tfeed\fline\nback\x08",
    "a\u0300\u0301\u0302\u0303\u0304\u0305\u0306\u0307 tower",
    "Ш Ж 漢字 עברית عربى Łódź ﬀ ½ ™",
    "\ud800 lone",
    "long" * 300,
)


def sheet_of(words: str) -> Sheet:
    """A sheet that has the words wherever words can stand."""
    return Sheet(
        kind=words,
        title=words,
        head=words,
        foot=words,
        lead=(Facts(rows=((words, words),)), Words(words=words), Words(words=words, strong=True)),
        parts=(
            Part(
                title=words,
                blocks=(
                    Points(items=(words,), sign=words),
                    Checks(items=(Check(words=words, note=words),)),
                    Table(head=(words, ""), rows=((words, words), ("", words)), total=True),
                    Table(head=(words,), rows=((words,), (words,)), total=True, ticked=True),
                    Step(
                        number=1,
                        title=words,
                        aside=words,
                        facts=((words, words), ("", words)),
                        rows=(Row(label=words, cells=(Cell(name=words, boxes=2, blank=True),)),),
                    ),
                    Room(title=words, lines=1),
                ),
            ),
        ),
    )


PLAIN = PageRead(set_page(sheet_of("plain")))
BUILT = [(tag, list(attrs)) for tag, attrs in PLAIN.elements]
CLASSES = {attrs.get("class", "") for _, attrs in PLAIN.elements} | {"", "row long", "short"}
"""Long and short words are set otherwise; that is all that they change."""


def same_page(read: PageRead) -> None:
    """The page is built as the one with plain words: nothing of it came from the words."""
    assert [(tag, list(attrs)) for tag, attrs in read.elements] == BUILT
    classes = {attrs.get("class", "") for _, attrs in read.elements}
    assert classes <= CLASSES


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_are_plain_text_on_the_page(words: str) -> None:
    from forgelog.recipe.plain import harmless

    html = set_page(sheet_of(words))
    read = PageRead(html)
    same_page(read)
    shown = " ".join(harmless(words).split())
    assert read.text.count(shown) >= 15
    assert "<script" not in html
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e\u2066-\u2069]", html)
    html.encode("utf-8")


@pytest.mark.parametrize("words", HOSTILE)
def test_the_running_head_cannot_leave_its_string(words: str) -> None:
    assert re.fullmatch(r'"(?:[A-Za-z0-9 ]|\\[0-9a-f]{1,6} )*"', css_text(words))
    style = PageRead(set_page(sheet_of(words))).style
    assert "url(" not in style
    assert "@import" not in style
    assert style.count("{") == style.count("}") == PLAIN.style.count("{")


@given(st.text(min_size=1))
def test_any_text_whatever_is_only_text(words: str) -> None:
    same_page(PageRead(set_page(sheet_of(words))))
    assert re.fullmatch(r'"(?:[A-Za-z0-9 ]|\\[0-9a-f]{1,6} )*"', css_text(words))


@given(st.text(min_size=1))
def test_any_text_whatever_goes_through_a_line_printer(words: str) -> None:
    text = set_lines(sheet_of(words))
    assert text.isascii()
    assert not re.search(r"[^\x20-\x7e\n\f]", text)
    assert all(len(line) <= WIDTH for line in re.split(r"[\n\f]", text))


def test_hostile_words_of_orders_recipes_and_customers_are_plain_text(
    shop: Shop, clock: FakeClock
) -> None:
    nasty = "<script>x</script>"
    recipe = shop.book / "recipes" / "nasty.toml"
    recipe.write_text(
        f'''
format = 1
id = "nasty"
name = "{nasty}"
says = "</p>{nasty}"
[[component]]
id = "pin"
name = "<b>pin</b>"
stock = {{ section = "12 mm square", cut = "180 mm" }}
[[component.step]]
do = "draw {nasty}"
says = "<img src=x onerror=y>"
heats = {{ hand = 2 }}
tools = [{{ name = "<i>tongs</i>", setting = "&amp;" }}]
gauge = [{{ what = "<u>end</u>", size = "4 mm" }}]
'''
    )
    shop = shop.again()
    order = take_order(shop, "nasty", label="</style>", title=f"{nasty}&amp;", clock=clock)
    (shop.book / "customers").mkdir(exist_ok=True)
    (shop.book / "customers" / f"{order.id}.toml").write_text(f'"<td>" = "{nasty}"\n')
    shop = shop.again()
    told = job_of(shop, find_order(shop.state, "</style>"), customer=True, clock=clock)
    html = set_page(job_sheet(told))
    read = PageRead(html)
    for words in (nasty, "<b>pin</b>", "<img src=x onerror=y>", "<i>tongs</i>", "<u>end</u>"):
        assert words in read.text
    assert "&amp;" in read.text, "what was written is shown, not what it would mean"
    assert {tag for tag, _ in read.elements}.isdisjoint({"script", "img", "i", "u", "a", "link"})
    assert "http" not in html


def test_the_page_fetches_nothing_and_runs_nothing(shop: Shop, clock: FakeClock) -> None:
    html = set_page(job_sheet(job_of(shop, find_order(shop.state, "gate 14"), clock=clock)))
    read = PageRead(html)
    assert "http" not in html
    assert "url(" not in html
    tags = {tag for tag, _ in read.elements}
    assert tags.isdisjoint({"script", "img", "iframe", "object", "embed", "link", "a", "form"})
    for _, attrs in read.elements:
        assert not any(key.startswith("on") or key in ("src", "href", "style") for key in attrs)


def test_a_running_line_is_cut_before_it_leaves_the_page() -> None:
    assert one_line("JOB SHEET  gate 14: Two pins", HEAD_EM) == "JOB SHEET  gate 14: Two pins"
    for sign in "Wi漢":
        cut = one_line(sign * 200, HEAD_EM)
        assert cut.endswith("...")
        assert len(cut) * (1.0 if sign != "i" else 0.56) < HEAD_EM + 2
