"""A sheet as Markdown: what people wrote is plain text, whoever reads the file."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from forgelog.recipe.plain import harmless
from forgelog.sheets.blocks import Drawing, Part, Picture, Points, Sheet, Table, Words
from forgelog.sheets.markdown import plain, set_markdown
from tests.sheets.test_hostile import HOSTILE, sheet_of

MORE = (
    "1. a list",
    "- a list",
    "+ a list",
    "# a heading",
    "> a quote",
    "    code",
    "*strong* _weak_ `code` ~~gone~~",
    "[words](http://evil.example) ![x](y) <http://z>",
    "http://evil.example www.evil.example a@evil.example",
    "a | b | c",
    "---",
    "===",
    "````",
    "a  \nb\\",
    "&copy; &#60;",
    ":bomb: $x^2$",
    "example.com ftp://x.org //y.org mailto:x@y.org xn--e1afmkfd.xn--p1ai",
    "<!-- x --> <?php x ?>",
)
READER = MarkdownIt("gfm-like")


def tokens(text: str) -> list[Token]:
    return [inner for token in READER.parse(text) for inner in (token, *(token.children or ()))]


@pytest.mark.parametrize("words", [*HOSTILE, *MORE])
def test_no_words_are_ever_more_than_words(words: str) -> None:
    found = tokens(plain(words))
    allowed = {"paragraph_open", "inline", "text", "paragraph_close", "text_special"}
    assert {token.type for token in found} <= allowed


@given(st.text(max_size=80))
def test_what_is_read_is_what_was_written(words: str) -> None:
    read = "".join(token.content for token in tokens(plain(words)) if "text" in token.type)
    assert read.split() == harmless(words).split()


@pytest.mark.parametrize("words", [*HOSTILE, *MORE])
def test_a_whole_sheet_of_hostile_words_holds_no_link_no_picture_and_no_html(words: str) -> None:
    text = set_markdown(sheet_of(words))
    kinds = {token.type for token in tokens(text)}
    assert not kinds & {"link_open", "image", "html_block", "html_inline", "code_block", "s_open"}


def test_a_table_keeps_its_columns_whatever_stands_in_them() -> None:
    table = Table(head=("step", "heats"), rows=(("a|b", "2"), ("c\nd", "")), right=frozenset({1}))
    sheet = Sheet(
        kind="SESSION",
        title="t",
        head="h",
        foot="f",
        lead=(),
        parts=(Part(title="p", blocks=(table,)),),
    )
    found = [token.type for token in tokens(set_markdown(sheet))]
    assert found.count("td_open") == 4
    assert found.count("th_open") == 2


def test_a_drawing_is_told_in_letters_that_no_name_can_break_out_of() -> None:
    drawing = Drawing(svg="<svg/>", words="The day:", lines=("```", "# not a heading", "####hand"))
    blocks = (Words(words="before"), Picture(drawing=drawing), Points(items=("after",), sign="-"))
    sheet = Sheet(kind="SESSION", title="t", head="h", foot="f", lead=blocks, parts=())
    found = tokens(set_markdown(sheet))
    (fence,) = [token for token in found if token.type == "fence"]
    assert fence.content == "```\n# not a heading\n####hand\n"
    assert [t.type for t in found].count("heading_open") == 1
    assert "<svg" not in set_markdown(sheet)
