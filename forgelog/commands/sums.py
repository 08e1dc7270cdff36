"""forgelog sums: the sums of the trade.

`--json` prints one object a sum: its figures by name with the unit in the name, `asked`, `source`,
and where there is something to say `note` and `caution`. Keys may be added; none goes or changes
its meaning.

The words are read here and not by argparse: 12 mm square needs no quotes, errors are in the
smith's words, and a sum answers before argparse would have been loaded.
"""

from __future__ import annotations

from forgelog.commands import CLEAN, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    from forgelog.desk.sums.answer import Answer
    from forgelog.desk.sums.asking import Sum

_ABOUT = """\
  forgelog sums NAME ... [--json] [--units mm|inch] [--dialect uk|us]
  forgelog sums NAME --help    says more of a sum, with examples
  forgelog sums --screen       the same on a page, with four keys

Bars are written as smiths write them: 12 mm square, 25 x 12 mm flat, 1/2 in round.
Ends with 0 when there is an answer, 2 when there is none."""

_CHOICES = {"units": ("mm", "inch"), "dialect": ("uk", "us")}


def run_words(words: list[str], book: str | None) -> int:
    """Work the sum that the words ask for, and print what comes out.

    Args:
        words: What stands after `forgelog sums`.
        book: The book's folder as told, or None.
    """
    from forgelog.desk.sums import find_sum
    from forgelog.desk.sums.asking import CannotSum, ask, read_words

    rest, said = _own_options(words)
    book = said.get("book") or book
    wants_help = any(word in ("--help", "-h") for word in rest)
    rest = [word for word in rest if word not in ("--help", "-h")]
    if "screen" in said:
        return _open_page(rest, said, book)
    if not rest:
        print(listing())
        return CLEAN
    try:
        one = find_sum(rest[0])
        if wants_help:
            print(help_of(one))
            return CLEAN
        answer = ask(one, read_words(one, rest[1:]), book=book)
    except CannotSum as problem:
        raise Refused(str(problem)) from None
    if "json" in said:
        import json

        print(json.dumps(answer.table, indent=2))
    else:
        print(told(answer, said.get("units"), said.get("dialect"), book))
    return CLEAN


def listing() -> str:
    """Every sum with its line of help."""
    from forgelog.desk.sums import SUMS

    wide = max(map(len, SUMS))
    rows = [f"  {name:<{wide}}  {says}" for name, (_, says) in SUMS.items()]
    return "\n".join(["The sums of the trade:", "", *rows, "", _ABOUT])


def help_of(one: Sum) -> str:
    """What a sum takes, with examples."""
    from forgelog.desk.sums.kinds import LIKE

    named = [(f.name.upper() if f.bare else f"--{f.name}", f) for f in one.fields]
    bare = "".join(f" {field.name.upper()}" for field in one.bare)
    lines = [f"forgelog sums {one.name}{bare} ...", "", f"  {one.says}", ""]
    wide = max(len(name) for name, _ in named)
    for name, field in named:
        says = field.says
        if field.kind == "word":
            says += f": {LIKE['word'](field.choices)}"
        elif field.kind not in ("flag", "text"):
            says += f" ({LIKE[field.kind](field.choices)})"
        if field.default:
            says += f"; {field.default} if not said"
        elif field.needed:
            says += "; must be said"
        lines.append(f"  {name:<{wide}}  {says}")
    lines += [
        f"  {'--json':<{wide}}  print one JSON object",
        f"  {'--units':<{wide}}  mm or inch; else as the book",
        "",
        "  For example:",
    ]
    lines += [f"    forgelog sums {one.name} {example}" for example in one.examples]
    return "\n".join(lines)


def told(answer: Answer, units: str | None, dialect: str | None, book: str | None) -> str:
    """The answer in plain text, in the units and dialect asked for, else in the book's."""
    if not (units and dialect):
        from forgelog.desk.sums.look import look_of

        look = look_of(book)
        units, dialect = units or look.units, dialect or look.dialect
    lines = answer.lines(units)
    wide = max((len(words) for words, _ in lines), default=0)
    rows = [answer.title, *(f"  {words:<{wide}}  {value}" for words, value in lines)]
    for name in ("source", "note", "caution"):
        if text := getattr(answer, name):
            rows.append(f"  {name}: {text}")
    whole = "\n".join(rows)
    if dialect == "us":
        from forgelog.trade.words import in_dialect

        whole = in_dialect(whole, dialect)
    return whole


def _own_options(words: list[str]) -> tuple[list[str], dict[str, str]]:
    """The words without the options that every sum takes, and what those say."""
    left: list[str] = []
    said: dict[str, str] = {}
    row = list(words)
    while row:
        word = row.pop(0)
        name, sign, value = word.partition("=")
        if word in ("--json", "--screen"):
            said[word[2:]] = "yes"
        elif name in ("--units", "--dialect", "--book"):
            if not sign:
                if not row:
                    raise Refused(f"{name} wants a word after it")
                value = row.pop(0)
            said[name[2:]] = _checked(name[2:], value)
        else:
            left.append(word)
    return left, said


def _checked(name: str, value: str) -> str:
    choices = _CHOICES.get(name)
    if choices and value not in choices:
        from forgelog.recipe.plain import quoted

        raise Refused(f"--{name} is {' or '.join(choices)}, not {quoted(value)}")
    return value


def _open_page(words: list[str], said: dict[str, str], book: str | None) -> int:
    from forgelog.desk.sums.look import look_of
    from forgelog.screens.app import run as open_app
    from forgelog.screens.sums import SumsScreen

    if words:
        raise Refused("--screen opens the page; it takes no sum")
    look = look_of(book)
    return open_app(
        lambda app: SumsScreen(
            units=said.get("units") or look.units, dialect=said.get("dialect") or look.dialect
        )
    )
