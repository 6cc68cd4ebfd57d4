"""The document of the page: it lives here, not in the browser, so that a reload or a second tab loses nothing.

Every version of it is a text that makes a layup. What was typed and makes none is kept beside it, until it does.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType

from ...model.errors import ExportError, LayupError
from ..examine import Examined, examine_file
from ..read.layup_file import LayupFile, read_bytes
from ..whole_file import write_whole
from .edit import Changes, edited
from .picture import Picture, picture

KEPT = 500
"""Versions that undo goes back through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One state of the document.

    Parameters
    ----------
    text
        What its file says.
    at_home
        Whether it is a version of the file that the command line named.
    folder
        Where drawings that it names lie; None where there is no such place.
    """

    text: str
    at_home: bool
    folder: Path | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pending:
    """What was typed for a key and can't be, with the reason."""

    typed: str
    message: str


@dataclass(frozen=True, kw_only=True)
class Standing:
    """A version with its layup and what was found about it."""

    version: Version
    file: LayupFile
    examined: Examined

    @cached_property
    def picture(self) -> Picture | None:
        """Its picture, made when it is first asked for; None where the shape can't exist or is too large to draw."""
        planned = self.examined.planned
        return None if planned is None else picture(planned.plan)


def standing(version: Version) -> Standing:
    """Read a version and hold it against every rule.

    Raises
    ------
    LayupError
        It makes no layup.
    """
    file = read_bytes(version.text.encode(), None if version.folder is None else str(version.folder))
    return Standing(version=version, file=file, examined=examine_file(file))


class Desk:
    """The document with its past, its revision, and what is not saved of it.

    Parameters
    ----------
    text
        What it begins with.
    home
        The file that it is saved to; none where the command line named none.
    """

    __slots__ = (
        "_displaced",
        "_future",
        "_kept",
        "_on_disk",
        "_past",
        "_stroke",
        "home",
        "now",
        "pending",
        "revision",
    )

    def __init__(self, text: str, home: Path | None) -> None:
        self.home = home
        folder = None if home is None else home.parent
        self.now = standing(Version(text=text, at_home=home is not None, folder=folder))
        self.pending: Mapping[str, Pending] = MappingProxyType({})
        self.revision = 1
        # texts only: pictures and plans of hundreds of versions would fill the memory
        self._past: list[Version] = []
        self._future: list[Version] = []
        self._stroke = ""
        self._displaced: list[Version] = []
        self._kept = {self.now.version}
        self._on_disk = None if home is None else home.read_bytes()

    @property
    def is_dirty(self) -> bool:
        """Whether something is not saved."""
        return self.now.version not in self._kept

    @property
    def unsaved(self) -> tuple[Version, ...]:
        """What would be lost now: the version that stands, and those that another document took the place of."""
        return tuple(one for one in (*self._displaced, self.now.version) if one not in self._kept)

    def beside(self) -> dict[str, bytes]:
        """Drawings that the layup names, by their names: they were read, so that they lie below its own folder.

        Raises
        ------
        OSError
            One is no longer there.
        """
        layup, folder = self.now.file.layup, self.now.version.folder
        named = (layup.panel.outline_file, None if layup.bend is None else layup.bend.file)
        if folder is None:
            return {}
        return {name: (folder / name).read_bytes() for name in named if name is not None}

    @property
    def can_undo(self) -> bool:
        """Whether there is an earlier version."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether something was undone."""
        return bool(self._future)

    def change(self, changes: Changes, stroke: str = "") -> None:
        """Make changes, together with those that could not be made before; keep those that still can't.

        Parameters
        ----------
        stroke
            Name of one go of typing: its letters are one step for undo. Empty where each change is its own.
        """
        before = self.now
        self._change(changes)
        if self.now is before:
            return
        if stroke and stroke == self._stroke:
            # the version in between was made by the same go, and is no step of its own
            self._past.pop()
        self._stroke = stroke

    def _change(self, changes: Changes) -> None:
        waiting = {key: one.typed for key, one in self.pending.items()}
        self.revision += 1
        error = self._try({**waiting, **changes})
        if error is None:
            self.pending = MappingProxyType({})
            return
        alone = self._try(changes) if waiting else error
        if alone is None:
            self.pending = MappingProxyType({k: v for k, v in self.pending.items() if k not in changes})
            return
        self.pending = MappingProxyType({**self.pending, **_pending(changes, alone)})

    def open(self, data: bytes, folder: Path | None = None) -> None:
        """Put another document on the desk, with the folder of its drawings; undo brings the former one back.

        Raises
        ------
        LayupError
            It makes no layup.
        """
        text = read_bytes(data, None if folder is None else str(folder)).text
        found = standing(Version(text=text, at_home=False, folder=folder))
        if self.is_dirty:
            self._displaced.append(self.now.version)
        self._kept.add(found.version)
        self._put(found)
        self.pending = MappingProxyType({})
        self._stroke = ""
        self.revision += 1

    def undo(self) -> None:
        """Go back by one version; with something waiting that can't be, only let go of that."""
        self.revision += 1
        self._stroke = ""
        if self.pending:
            self.pending = MappingProxyType({})
        elif self._past:
            self._future.append(self.now.version)
            self._return(self._past.pop())

    def redo(self) -> None:
        """Go forward again."""
        self.revision += 1
        self._stroke = ""
        self.pending = MappingProxyType({})
        if self._future:
            self._past.append(self.now.version)
            self._return(self._future.pop())

    def save(self) -> None:
        """Write the file that the command line named.

        Raises
        ------
        ExportError
            There is none, or another program has changed it since.
        OSError
            It can't be written.
        """
        if self.home is None or not self.now.version.at_home:
            raise ExportError("This layup has no file of its own; save a copy instead.")
        there = self.home.read_bytes() if self.home.exists() else None
        if there is not None and there != self._on_disk:
            raise ExportError(f"{self.home.name} was changed by another program; save a copy instead.")
        data = self.now.version.text.encode()
        write_whole(self.home, data)
        self._on_disk = data
        self._kept = {one for one in self._kept if not one.at_home}
        self.copied()

    def copied(self) -> None:
        """Count the version that stands as saved."""
        self._kept.add(self.now.version)
        self._stroke = ""
        self.revision += 1

    def close(self) -> None:
        """Count everything as kept."""
        self._kept.update(self.unsaved)

    def _try(self, changes: Changes) -> LayupError | None:
        """Make changes where they make a layup; else tell why not."""
        version = self.now.version
        try:
            text = edited(version.text, changes)
            found = standing(replace(version, text=text))
        except LayupError as error:
            return error
        if text != version.text:
            self._put(found)
        return None

    def _return(self, version: Version) -> None:
        """Let a version stand again; one that another document took the place of is again among those to save."""
        if version in self._displaced:
            self._displaced.remove(version)
        self.now = standing(version)

    def _put(self, found: Standing) -> None:
        self._past = [*self._past[1 - KEPT :], self.now.version]
        self._future = []
        self.now = found


def _pending(changes: Changes, error: LayupError) -> dict[str, Pending]:
    """What waits, each with the message; where it speaks of another key, that is named."""
    hint = f" {error.hint}" if error.hint else ""
    about = f"Found {error.found}; allowed: {error.allowed}.{hint}"
    named = f"{error.key}: {about[:1].lower()}{about[1:]}" if error.key else about
    return {
        key: Pending(typed=typed or "", message=about if key == error.key else named)
        for key, typed in changes.items()
    }
