"""The program ``underbag``: it finds the command that is asked for, and ends with its status."""

import os
import sys
from argparse import Action, ArgumentParser, HelpFormatter, Namespace, RawDescriptionHelpFormatter
from collections.abc import Sequence
from typing import Any, NoReturn

from ..model.errors import LayupError, UnderbagError
from .columns import WIDTH, wrap
from .commands.air import AIR
from .commands.bags import BAGS
from .commands.check import CHECK
from .commands.fit import FIT
from .commands.kind import Command
from .commands.make import MAKE
from .commands.materials import MATERIALS
from .commands.open import OPEN
from .commands.schema import SCHEMA
from .commands.start import START
from .commands.together import TOGETHER
from .read.spelling import did_you_mean, listed
from .screen.mistake import mistake, plain_mistake
from .status import BROKEN_OFF, FAILED, FINE, MEANINGS, UNUSABLE
from .terminal import Terminal, standard

COMMANDS: tuple[Command, ...] = (START, OPEN, CHECK, FIT, TOGETHER, BAGS, AIR, MAKE, MATERIALS, SCHEMA)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program; gives its exit status.

    Parameters
    ----------
    arguments
        What stands behind the program's name; by default that of this process.
    """
    terminal = standard()
    try:
        status = _answer(arguments, terminal)
        terminal.results.flush()
    except BrokenPipeError:
        # whoever read has heard enough; nothing more may be written, not even when Python ends
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except KeyboardInterrupt:
        return BROKEN_OFF
    return status


def _answer(arguments: Sequence[str] | None, terminal: Terminal) -> int:
    given = list(sys.argv[1:] if arguments is None else arguments)
    if not given:
        terminal.say(parser().format_help())
        return UNUSABLE
    if _is_unknown(given[0]):
        unknown = LayupError(
            "", f"the command '{given[0]}'", listed(_names()), did_you_mean(given[0], _names())
        )
        terminal.say(mistake("underbag", unknown, terminal.talk_ink))
        return UNUSABLE
    try:
        asked = parser().parse_args(given)
    except SystemExit as end:
        # help, the version, or arguments that can't be understood
        return end.code if isinstance(end.code, int) else FINE
    return _run(asked, terminal)


def _is_unknown(first: str) -> bool:
    return not first.startswith("-") and first not in _names()


def _names() -> tuple[str, ...]:
    return tuple(command.name for command in COMMANDS)


def _run(asked: Namespace, terminal: Terminal) -> int:
    command: Command = asked.command
    try:
        return command.run(asked, terminal)
    except LayupError as error:
        terminal.say(mistake(getattr(asked, "file", None) or command.name, error, terminal.talk_ink))
        return UNUSABLE
    except BrokenPipeError:
        raise
    except UnderbagError as error:
        terminal.say(plain_mistake(str(error), terminal.talk_ink))
    except OSError as error:
        place = f"{error.filename}: " if error.filename else ""
        terminal.say(plain_mistake(f"{place}{error.strerror or error}", terminal.talk_ink))
    return FAILED


def parser() -> ArgumentParser:
    """Parser of all commands, with their help."""
    found = ArgumentParser(
        prog="underbag",
        description="See, size and check a veneer layup before it goes under the vacuum bag.",
        epilog=_epilog(),
        formatter_class=_formatter,
    )
    found.add_argument("-V", "--version", action=_Version, nargs=0, help="print the version and end")
    commands = found.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for command in COMMANDS:
        about = "\n".join(wrap(command.about))
        one = commands.add_parser(
            command.name, help=command.help, description=about, formatter_class=_formatter
        )
        command.add(one)
        one.set_defaults(command=command)
    return found


def _formatter(prog: str) -> HelpFormatter:
    return RawDescriptionHelpFormatter(prog, max_help_position=20, width=WIDTH)


def _epilog() -> str:
    meanings = "\n".join(f"  {status}  {words}" for status, words in MEANINGS)
    return f"exit status:\n{meanings}\n\nunderbag COMMAND --help tells more of a command."


class _Version(Action):
    """Prints the version; what it takes to know it is loaded only then."""

    def __call__(self, parser: ArgumentParser, *ignored: Any) -> NoReturn:
        from importlib.metadata import version

        print(f"underbag {version('underbag')}")
        parser.exit()


if __name__ == "__main__":
    sys.exit(main())
