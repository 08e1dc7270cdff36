"""forgelog export: sessions, steps or rests as a table for a spreadsheet or a notebook."""

from __future__ import annotations

import sys

from forgelog.commands import CLEAN, Refused
from forgelog.commands.progress import read_up

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

    from forgelog.desk.export import Table


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("table", nargs="?", default="", help="sessions, steps or rests")
    parser.add_argument("--json", action="store_true", help="as JSON; as CSV without it")
    parser.add_argument("-o", "--out", metavar="FILE", help="write it there")


def run(args: argparse.Namespace) -> int:
    """Print or write the table; without one, say which there are, with their columns."""
    from pathlib import Path

    import msgspec

    from forgelog.desk.errors import CannotDo
    from forgelog.desk.export import TABLES, as_csv, export, table_named
    from forgelog.desk.new_file import put_new
    from forgelog.desk.shop import open_shop

    try:
        if not args.table:
            for table in TABLES.values():
                _tell(table)
            return CLEAN
        table = table_named(args.table)
        shop = open_shop(args.book)
        read_up(shop)
        rows = export(shop, table.name)
        if args.json:
            text = msgspec.json.format(msgspec.json.encode(rows), indent=2).decode() + "\n"
        else:
            text = as_csv(rows, table)
        if args.out:
            print(f"written: {put_new(Path(args.out), text)}")
        else:
            sys.stdout.write(text.replace("\r\n", "\n"))
    except CannotDo as problem:
        raise Refused(str(problem)) from None
    return CLEAN


def _tell(table: Table) -> None:
    print(f"{table.name}: {table.says}")
    for column in table.columns:
        print(f"  {column.name:<14} {column.says}")
