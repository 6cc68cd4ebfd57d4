"""What happens to unsaved work when the program ends."""

from collections.abc import Iterator
from pathlib import Path

from ..whole_file import write_whole
from .desk import Desk


def recover(desk: Desk, folder: Path) -> Iterator[Path]:
    """Write unsaved work beside its file, or to a folder where it has none; give each new file.

    Raises
    ------
    OSError
        It can't be written.
    """
    for version in desk.unsaved:
        path = _free(desk.home if desk.home is not None and version.at_home else folder / "layup.toml")
        write_whole(path, version.text.encode())
        yield path


def _free(near: Path) -> Path:
    """Name beside a file that no file has yet."""
    number = 1
    while (path := near.with_name(f"{near.stem}-unsaved-{number}.toml")).exists():
        number += 1
    return path
