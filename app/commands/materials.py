"""``underbag materials``: what a layup can be made of, and where its values come from."""

from argparse import ArgumentParser, Namespace

from ...model.errors import LayupError
from ..status import FINE
from ..terminal import Terminal
from .kind import Command


def _add(parser: ArgumentParser) -> None:
    parser.add_argument(
        "name", metavar="NAME", nargs="?", help="a material by any of its names; without it, all are listed"
    )


def _run(arguments: Namespace, terminal: Terminal) -> int:
    terminal.give(_one(arguments.name, terminal) if arguments.name else _all(terminal))
    return FINE


def _all(terminal: Terminal) -> str:
    from ...model.data.tables import facts_in, names, open_table
    from ..screen.materials import GROUPS, material_list

    facts = {
        table: tuple(fact for key in open_table(table).keys for fact in facts_in(table, key))
        for table in GROUPS
    }
    return material_list(names(), facts, terminal.ink)


def _one(name: str, terminal: Terminal) -> str:
    from ..read.material_values import find_materials, material_of, nearest_material
    from ..screen.materials import material_page

    found = find_materials(name)
    if not found:
        hint = nearest_material(name) or "Leave the name out to see them all."
        raise LayupError("", f'the material "{name}"', "a name that underbag materials lists", hint)
    pages = [material_page(item, material_of(item), terminal.ink) for item in found]
    return "\n".join(pages)


MATERIALS = Command(
    name="materials",
    help="list the materials, or tell all of one with its sources",
    about="List the materials that a layup can be made of, or tell every value of one with its range and source.",
    add=_add,
    run=_run,
)
