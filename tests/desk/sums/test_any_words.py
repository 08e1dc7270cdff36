"""Whatever is written after `forgelog sums`, there is an answer or a sentence, and no traceback."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from forgelog.__main__ import main
from forgelog.desk.sums import SUMS, find_sum
from forgelog.desk.sums.asking import CannotSum, Sum, ask, read_words

_PIECES = st.sampled_from(
    [
        *("12", "0", "-5", "1/2", "1/0", "9" * 12, "1e400", ".5", "nan", "inf", "1,5", "½"),
        *("mm", "in", "degC", "degF", "min", "h", "kg", "MPa", "%", "tpi", "m", "ft", '"'),
        *("square", "round", "flat", "sheet", "angle", "tube", "hexagon", "x", "to", "through"),
        *("M12", "M0", "M99", "#10", "UNC", "BSW", "1-1/8", "SWG", "letter", "drill"),
        *("taper", "point", "leaf", "eye", "inside", "rod", "hole", "of", "ball", "bar"),
        *("C", "Mn", "0.45", "cherry", "red", "1045", "O1", "draw", "upset", "punch", "hand"),
        *("--json", "--help", "-h", "--", "---", "--=", "--units", "inch", "--book", "--size"),
        *("post=1mm", "a=", "=", "", " ", "\u202e", "\ud800", "\x1b[2J", "[/]", "{", "'"),
    ]
)
_WORDS = st.lists(st.one_of(_PIECES, st.text(max_size=12)), max_size=9)


def _answers_or_says_why(one: Sum, words: list[str]) -> None:
    """Any other exception than the smith's words fails the test."""
    said = ""
    try:
        answer = ask(one, read_words(one, words))
    except CannotSum as problem:
        said = str(problem) or "nothing"
    else:
        for units in ("mm", "inch"):
            assert answer.lines(units)
        assert answer.table["source"]
    assert said != "nothing"


@pytest.mark.parametrize("name", SUMS)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_words_have_an_answer_or_a_sentence(name: str, data: st.DataObject) -> None:
    one = find_sum(name)
    fields = [field for field in one.fields if field.kind != "flag"]
    names = [f"--{field.name}" for field in one.fields if not field.bare]
    usual = [text for field in fields for text in field.usual] or ["12 mm"]
    word = st.one_of(_PIECES, st.sampled_from(usual), st.sampled_from(names or ["--x"]))
    words = data.draw(st.one_of(_WORDS, st.lists(word, max_size=10)))
    _answers_or_says_why(one, words)


@settings(max_examples=150, deadline=None)
@given(words=_WORDS)
def test_the_shell_never_sees_a_fault(words: list[str]) -> None:
    import io
    from contextlib import redirect_stderr, redirect_stdout

    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(["sums", *[word for word in words if word != "--screen"]])
    assert code in (0, 2)
    assert (code == 0) == (not err.getvalue())
    assert "Traceback" not in err.getvalue()


@settings(max_examples=100, deadline=None)
@given(
    sizes=st.lists(st.floats(min_value=1e-9, max_value=1e7), min_size=3, max_size=3),
    name=st.sampled_from(["bar", "cool", "upset", "becomes", "ring", "scroll", "hot", "through"]),
)
def test_sizes_of_any_magnitude_have_an_answer_or_a_sentence(sizes: list[float], name: str) -> None:
    a, b, c = (f"{size:.6f} mm" for size in sizes)
    given_words = {
        "bar": [f"{a} square", "--length", b],
        "cool": [f"{a} round", "--from", "850 degC", "--to", "100 degC"],
        "upset": [f"{a} round", "--by", f"ball {b}"],
        "becomes": [f"{a} square", b, "--to", f"{c} round"],
        "ring": [f"{a} round", "--inside", b],
        "scroll": ["12 mm round", "--inner", a, "--outer", b, "--turns", "2"],
        "hot": [a, "--at", "900 degC"],
        "through": ["M12", "--thickest", a, "--thinnest", b, "--washers", c],
    }[name]
    one = find_sum(name)
    _answers_or_says_why(one, given_words)
