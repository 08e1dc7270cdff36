"""forgelog sums: the sums of the trade.

`--json` prints one object a sum: its figures by name with the unit in the name, `asked`, `source`,
and where there is something to say `note` and `caution`. Keys may be added; none goes or changes
its meaning.
"""

from __future__ import annotations

import sys

from forgelog.commands import CLEAN, NOT_DONE, Refused

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.sums.answer import Answer
    from forgelog.desk.sums.asking import Sum

_ABOUT = (
    "Each sum says more of itself: forgelog sums thread --help\n"
    "Bars are written as smiths write them: 12 mm square, 25 x 12 mm flat, 1/2 in round."
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes; the words of a sum are read by the sum itself."""
    import argparse as args

    parser.formatter_class = args.RawDescriptionHelpFormatter
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.add_argument("--units", choices=("mm", "inch"), help="mm or inch; else as the book")
    parser.add_argument("--dialect", choices=("uk", "us"), help="uk or us words; else as the book")
    parser.add_argument("--screen", action="store_true", help="choose on a page, with four keys")
    parser.add_argument(
        "words",
        nargs=args.REMAINDER,
        metavar="NAME ...",
        help="a sum and what it asks for; none lists them",
    )


def run(args: argparse.Namespace) -> int:
    """Work the sum, and print what comes out."""
    from forgelog.desk.sums import find_sum
    from forgelog.desk.sums.asking import CannotSum, ask, read_words

    if args.screen:
        return _open_page(args)
    words = _own_options(args)
    if not words:
        print(listing())
        return CLEAN
    try:
        one = find_sum(words[0])
        if any(word in ("--help", "-h") for word in words[1:]):
            print(help_of(one))
            return CLEAN
        answer = ask(one, read_words(one, words[1:]), book=args.book)
    except CannotSum as problem:
        raise Refused(str(problem)) from None
    if args.json:
        _print_json(answer)
    else:
        print(told(answer, args))
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

    bare = " ".join(field.name.upper() for field in one.bare)
    lines = [f"forgelog sums {one.name} {bare} [--json] [--units mm|inch]".replace("  ", " ")]
    lines += ["", f"  {one.says}", ""]
    named = [(f.name.upper() if f.bare else f"--{f.name}", f) for f in one.fields]
    wide = max(len(name) for name, _ in named)
    for name, field in named:
        says = field.says
        if field.kind == "word":
            says += f": {LIKE['word'](field.choices)}"
        elif field.kind not in ("flag", "text") and not field.bare:
            says += f" ({LIKE[field.kind](field.choices)})"
        if field.default:
            says += f"; {field.default} if not said"
        elif field.needed:
            says += "; must be said"
        lines.append(f"  {name:<{wide}}  {says}")
    lines += ["", "  For example:"]
    lines += [f"    forgelog sums {one.name} {example}" for example in one.examples]
    return "\n".join(lines)


def told(answer: Answer, args: argparse.Namespace) -> str:
    """The answer in plain text, in the book's units and dialect."""
    from forgelog.desk.sums.look import Look, look_of

    look = Look() if args.units and args.dialect else look_of(args.book)
    units, dialect = args.units or look.units, args.dialect or look.dialect
    lines = answer.lines(units)
    wide = max((len(words) for words, _ in lines), default=0)
    rows = [answer.title, *(f"  {words:<{wide}}  {value}" for words, value in lines)]
    rows.append(f"  source: {answer.source}")
    if answer.note:
        rows.append(f"  note: {answer.note}")
    if answer.caution:
        rows.append(f"  caution: {answer.caution}")
    text = "\n".join(rows)
    if dialect == "us":
        from forgelog.trade.words import in_dialect

        text = in_dialect(text, dialect)
    return text


def _print_json(answer: Answer) -> None:
    import json

    print(json.dumps(answer.table, indent=2))


def _own_options(args: argparse.Namespace) -> list[str]:
    """The words without the options that every sum takes, which may stand among them."""
    left: list[str] = []
    words = list(args.words)
    while words:
        word = words.pop(0)
        name, sign, value = word.partition("=")
        if word == "--json":
            args.json = True
        elif name in ("--units", "--dialect", "--book"):
            if not sign:
                if not words:
                    raise Refused(f"{name} wants a word after it")
                value = words.pop(0)
            _set(args, name[2:], value)
        else:
            left.append(word)
    return left


def _set(args: argparse.Namespace, name: str, value: str) -> None:
    choices = {"units": ("mm", "inch"), "dialect": ("uk", "us")}.get(name)
    if choices and value not in choices:
        from forgelog.recipe.plain import quoted

        raise Refused(f"--{name} is {' or '.join(choices)}, not {quoted(value)}")
    setattr(args, name, value)


def _open_page(args: argparse.Namespace) -> int:
    from forgelog.desk.sums.look import look_of
    from forgelog.screens.app import run as open_app
    from forgelog.screens.sums import SumsScreen

    if args.words:
        print("forgelog: --screen opens the page; it takes no sum", file=sys.stderr)
        return NOT_DONE
    look = look_of(args.book)
    return open_app(lambda app: SumsScreen(units=args.units or look.units, dialect=look.dialect))
