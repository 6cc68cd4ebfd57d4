"""Writing files whole or not at all: aside first, then moved into place."""

import os
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that whoever reads it finds either what was there before or all of the new content.

    Raises
    ------
    OSError
        It can't be written; nothing is left behind.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with aside.open("xb") as stream:
            stream.write(content)
        os.replace(aside, path)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
