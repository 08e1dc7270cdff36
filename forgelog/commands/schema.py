"""forgelog schema: print the JSON Schema of recipes, for editors."""

from __future__ import annotations

from forgelog.commands import CLEAN

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "--page", action="store_true", help="print the page for smiths instead, in Markdown"
    )


def run(args: argparse.Namespace) -> int:
    """Print the schema, or the page that says the same to people."""
    if args.page:
        from forgelog.recipe.page import format_page

        print(format_page(), end="")
    else:
        from forgelog.recipe.schema import schema_text

        print(schema_text(), end="")
    return CLEAN
