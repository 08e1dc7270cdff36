"""forgelog order: take customers' orders, look at them, change them.

`order list --json` prints a list of orders, `order show --json` one of them. Keys are stable and
named like the fields of the readout; keys may be added, none goes or changes its meaning:

    id, letter, label, title, recipe, free, count, taken, promised, for_shop, held, closed,
    begun, called_off, delivered, delivered_on, undone[], spares[], left_out[],
    steps_done, steps, customer_file, problems[], offered, notes[],
    sizes[]      name, mm, shown, says, given
    bars[]       component, name, section, shown, cut_mm, cut, given, own, own_cut
    customer     null, or name, address[], notes, more[], problem
    bought[]     id, name, count, says, component, mass_kg
    pieces[]     id, slot, place, step, done, steps, where, note, spare, make_as[]

`order jobs --json` prints a list of tools: id, name, state, since, order, recipes[],
holds_up[] (order, label, steps[]).
"""

from __future__ import annotations

from forgelog.commands import Refused
from forgelog.commands.order import changing, ending, looking, taking
from forgelog.commands.order.arguments import arguments

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

__all__ = ["arguments", "run"]

_DEEDS = {
    "take": taking.take,
    "begin": taking.begin,
    "list": looking.show_all,
    "jobs": looking.show_jobs,
    "show": looking.show_one,
    "size": changing.size,
    "bar": changing.bar,
    "for": changing.customer,
    "hold": changing.hold,
    "free": changing.free,
    "promise": changing.promise,
    "spare": changing.spare,
    "deliver": ending.deliver,
    "close": ending.close,
    "hours": changing.hours,
}


def run(args: argparse.Namespace) -> int:
    """Do the deed and say what stands then."""
    from forgelog.desk.errors import CannotDo
    from forgelog.desk.shop import open_shop

    try:
        return _DEEDS[args.deed](open_shop(args.book), args)
    except CannotDo as problem:
        raise Refused(str(problem)) from None
