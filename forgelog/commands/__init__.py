"""The commands of the shell: one module a command, loaded only when it is called.

Each module has `arguments(parser)`, which says what the command takes, and `run(args)`, which
does it and gives one of the exit codes below. `args.book` is the folder that --book names, or
None. A module that reads its words itself, to be quick, has `run_words(words, book)` in place of
both. To add a command, write its module and name it in `COMMANDS`.
"""

from __future__ import annotations

COMMANDS = {
    "home": "open orders, recipes, sessions, and the way to the fire; opens by itself",
    "demo": "practise in the book of a simulated shop; nothing real is touched",
    "new-book": "make the folder of a shop",
    "order": "take customers' orders, look at them, change them",
    "quote": "what an order costs, what is asked for it, and how it came out",
    "check": "look over recipes and say all that is wrong with them",
    "show": "print a recipe as a process sheet",
    "draft": "a recipe out of work that was done without one, with its gaps marked",
    "share": "a recipe with what your records say of it, as one file for another smith",
    "take": "look another smith's recipe over, and put it in the book",
    "compare": "two recipes, or two revisions of one, step by step",
    "export": "sessions, steps or rests as a table for a spreadsheet",
    "sums": "the sums of the trade: bars, stock, threads, heats, steels and more",
    "schema": "print the JSON Schema of recipes, for editors",
    "learn-keys": "teach this device the keys of a pedal or remote",
    "picture": "draw the real screen as an SVG picture",
    "next": "what to take next at the fire, and why",
    "plan": "the day's run: what is done when, the tools by when, when each order is done",
    "sheet": "a printable page: job sheet, cut list, quote, pack list, a session",
    "review": "look back: sessions, heats, rests kept and skipped, what to put right",
    "learn": "what the journal teaches of heats, minutes and rests, and what it suggests",
    "trends": "how heats, minutes, fire and hands have gone over the weeks",
    "evening": "five minutes after the fire: what to put right, what comes first tomorrow",
    "cut": "the cut list: which piece is sawn from which bar, and what to buy",
    "rack": "what lies on the rack: bars, offcuts kept and used up",
    "make-demo": "simulate the demo's book again from its seed, or check that it is so",
}
"""Every command with its line of help. A dash in a name is an underscore in its module."""

SHORT = frozenset({"check", "show", "schema"})
"""Commands that end in a moment and open no screen."""

HOME = "home"
"""The command that opens when none is named."""

CLEAN = 0
"""All went well, and nothing is wrong."""
PROBLEMS = 1
"""What was looked at has problems, which were printed."""
NOT_DONE = 2
"""It could not be done: a file that cannot be read, a word that is not understood."""
FAULT = 3
"""A fault in forgelog itself."""


class Refused(Exception):
    """A command cannot do what was asked; its words go to the smith as they are."""

    def __init__(self, words: str, code: int = NOT_DONE) -> None:
        self.code = code
        """The exit code."""
        super().__init__(words)
