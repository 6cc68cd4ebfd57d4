"""``underbag open``: the page at the bench, in the browser of this computer."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace

from ..status import FINE
from ..terminal import Terminal
from .kind import Command

HIGHEST_PORT = 65535


def _add(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file",
        metavar="FILE",
        nargs="?",
        help="the layup file to work on; without one, a shelf to begin with",
    )
    parser.add_argument("--no-browser", action="store_true", help="only print the address")
    parser.add_argument(
        "--port", type=_port, default=0, metavar="N", help="the port to take; a free one is found without it"
    )


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1024 <= int(text) <= HIGHEST_PORT:
        raise ArgumentTypeError(f"found {text!r}; allowed: 1024 to {HIGHEST_PORT}")
    return int(text)


def _run(arguments: Namespace, terminal: Terminal) -> int:
    import webbrowser
    from pathlib import Path

    from ..page.desk import Desk
    from ..page.recovery import recover
    from ..page.serve import serve
    from ..read.layup_file import read_file
    from ..read.starter import starter

    home = Path(arguments.file).absolute() if arguments.file else None
    desk = Desk(starter("flat") if home is None else read_file(arguments.file).text, home)

    def opened(address: str) -> None:
        terminal.say(f"The page is at {address} and open to this computer alone. End it with Ctrl-C.\n")
        if not arguments.no_browser:
            webbrowser.open(address)

    def closed() -> None:
        for kept in recover(desk, Path.cwd()):
            terminal.say(f"Unsaved changes are kept in {kept}\n")
        desk.close()

    try:
        serve(desk, arguments.port, opened, closed)
    except KeyboardInterrupt:
        # Ctrl-C is how the page is meant to be ended
        return FINE
    return FINE


OPEN = Command(
    name="open",
    help="shape a layup on a page in the browser, with its picture",
    about="Open a page on this computer alone: the layup's numbers, its picture, checks and papers. It is written "
    "back to FILE when it is saved on the page; what is not saved when the program ends is kept beside it.",
    add=_add,
    run=_run,
)
