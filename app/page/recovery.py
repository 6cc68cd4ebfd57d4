"""What happens to unsaved work when the program ends."""

from pathlib import Path

from ..whole_file import write_whole
from .desk import Desk


def recover(desk: Desk, folder: Path) -> Path | None:
    """Write unsaved work beside its file, or to a folder where it has none; give the new file.

    Raises
    ------
    OSError
        It can't be written.
    """
    if not desk.is_dirty:
        return None
    near = desk.home if desk.home is not None and desk.now.version.at_home else folder / "layup.toml"
    number = 1
    while (path := near.with_name(f"{near.stem}-unsaved-{number}.toml")).exists():
        number += 1
    write_whole(path, desk.now.version.text.encode())
    return path
