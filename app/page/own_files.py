"""The page's own files, by name: read once from the package, never by a path that a request gives."""

from importlib.resources import files
from pathlib import Path

KINDS = {".js": "text/javascript", ".css": "text/css"}
FOLDERS = {"page": "underbag.app.page", "picture": "underbag.export.page"}
"""Packages whose scripts and styles are served, by the first part of their address."""
ROOT = "underbag"


def own_files() -> dict[str, tuple[bytes, str]]:
    """Content and kind of every script and style, by its address."""
    return {
        f"/{folder}/{item.name}": (item.read_bytes(), KINDS[ending])
        for folder, package in FOLDERS.items()
        for item in files(package).iterdir()
        if (ending := f".{item.name.rpartition('.')[2]}") in KINDS
    }


def demo_folder() -> Path:
    """Folder of the demos and of the drawings that they name."""
    return Path(str(files(ROOT).joinpath("demos")))


def demos() -> dict[str, bytes]:
    """Layup files that come with the program, by name; none where they were left out."""
    folder = demo_folder()
    if not folder.is_dir():
        return {}
    found = {item.name: item for item in folder.iterdir() if item.name.endswith(".toml")}
    return {name.removesuffix(".toml"): found[name].read_bytes() for name in sorted(found)}
