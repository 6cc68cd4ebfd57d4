"""Making a set of files: each is written whole, and a manifest, written last, names them all."""

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..model.errors import ExportError, UnderbagError
from .document import as_text
from .exports import Export, Job
from .progress import Progress
from .whole_file import write_whole

MANIFEST = "manifest.json"
SCHEMA = 1
"""Version of the manifest; it rises when a key is taken away or changes its meaning."""


@dataclass(frozen=True, slots=True)
class Made:
    """One file of a set, by its place within the folder."""

    file: str
    export: str
    size: int
    digest: str


def make(
    job: Job, exports: tuple[Export, ...], folder: Path, source: bytes, progress: Progress
) -> tuple[Made, ...]:
    """Make the files of a set and give what was written, the manifest aside.

    Parameters
    ----------
    source
        What the layup file said; the manifest tells its digest.

    Raises
    ------
    ExportError
        A file could not be made.
    OSError
        A file could not be written.
    """
    # an older manifest would name files that are about to change
    (folder / MANIFEST).unlink(missing_ok=True)
    made: list[Made] = []
    progress.begin(tuple(export.name for export in exports))
    for done, export in enumerate(exports):
        progress.making(done, len(exports), export.name)
        for name, content in _contents(export, job):
            write_whole(folder / name, content)
            made.append(Made(name, export.name, len(content), _digest(content)))
            progress.wrote(name, len(content), made[-1].digest)
    manifest = as_text(_manifest(job, made, source)).encode()
    write_whole(folder / MANIFEST, manifest)
    progress.wrote(MANIFEST, len(manifest), _digest(manifest))
    progress.end(job.examined.verdict)
    return tuple(made)


def _contents(export: Export, job: Job) -> list[tuple[str, bytes]]:
    try:
        return list(export.files(job))
    except UnderbagError:
        raise
    except Exception as error:
        # the libraries below have errors of every kind; whoever waits for a file needs to know which one failed
        cause = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
        raise ExportError(f"{export.name} could not be made: {cause}") from error


def _manifest(job: Job, made: list[Made], source: bytes) -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "title": job.plan.layup.title,
        "status": job.examined.verdict,
        "layup_sha256": _digest(source),
        "files": [
            {"file": one.file, "export": one.export, "bytes": one.size, "sha256": one.digest} for one in made
        ],
    }


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
