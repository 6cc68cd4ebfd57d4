"""Papers: files made of the layup by a process of its own, which can be ended and may crash without harm."""

import io
import json
import subprocess
import sys
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from typing import Any, Literal

from ...model.errors import ExportError

PROGRAM = "import sys; from underbag.app.command import main; sys.exit(main())"
PATIENCE = 3.0
"""Seconds that a process is given to end by itself."""

Stand = Literal["working", "done", "stopped", "failed"]


@dataclass(slots=True)
class Paper:
    """One run of the maker, as far as it is."""

    folder: TemporaryDirectory[str]
    process: subprocess.Popen[str]
    stand: Stand = "working"
    done: int = 0
    of: int = 1
    making: str = ""
    cause: str = ""
    files: list[tuple[str, int]] = field(default_factory=list)


class Papers:
    """The maker of papers: one run at a time, the last one's files kept until the next."""

    __slots__ = ("_paper", "_thread")

    def __init__(self) -> None:
        self._paper: Paper | None = None
        self._thread: Thread | None = None

    def start(self, text: str, names: tuple[str, ...], beside: Mapping[str, bytes]) -> None:
        """Begin to make papers of a text, with the drawings that it names ``beside`` it, by their names.

        Raises
        ------
        ExportError
            Others are being made.
        """
        if self._paper is not None and self._paper.stand == "working":
            raise ExportError("Papers are being made already; wait for them, or stop them.")
        self.close()
        folder = TemporaryDirectory(prefix="underbag-")
        source = Path(folder.name, "layup.toml")
        source.write_text(text, encoding="utf-8", newline="\n")
        for name, drawing in beside.items():
            path = Path(folder.name, name)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(drawing)
        asked = ["make", "layup.toml", "-o", "made", "--only", ",".join(names), "--progress", "json"]
        process = subprocess.Popen(
            [sys.executable, "-P", "-c", PROGRAM, *asked],
            cwd=folder.name,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            # a Ctrl-C at the terminal is for the page; it ends this one itself
            start_new_session=True,
        )
        self._paper = Paper(folder=folder, process=process, of=len(names))
        self._thread = Thread(target=_follow, args=(self._paper,), daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """End what is being made."""
        if self._paper is not None and self._paper.stand == "working":
            self._paper.stand = "stopped"
            _end(self._paper.process)

    def told(self) -> dict[str, Any]:
        """How far the papers are."""
        paper = self._paper
        if paper is None:
            return {"stand": "none"}
        files = [{"name": name, "bytes": size} for name, size in paper.files]
        return {
            "stand": paper.stand,
            "done": paper.done,
            "of": paper.of,
            "making": paper.making,
            "cause": paper.cause,
            "files": files if paper.stand == "done" else [],
        }

    def file(self, number: int) -> tuple[str, bytes]:
        """Name and content of a file that was made, by its place in the list; −1 is all of them in one.

        Raises
        ------
        ExportError
            There is no such file.
        """
        paper = self._paper
        if paper is None or paper.stand != "done" or not -1 <= number < len(paper.files):
            raise ExportError("There is no such paper.")
        made = Path(paper.folder.name, "made")
        if number >= 0:
            name = paper.files[number][0]
            return name.rpartition("/")[2], (made / name).read_bytes()
        whole = io.BytesIO()
        with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed:
            for name, _ in paper.files:
                packed.write(made / name, name)
        return "papers.zip", whole.getvalue()

    def close(self) -> None:
        """End what is being made, and take its files away."""
        self.stop()
        if self._thread is not None:
            self._thread.join(2.0 * PATIENCE)
        if self._paper is not None:
            self._paper.folder.cleanup()
        self._paper = self._thread = None


def _follow(paper: Paper) -> None:
    """Read what a process tells until it ends."""
    said: list[str] = []
    listener = Thread(target=_hear, args=(paper.process, said), daemon=True)
    listener.start()
    assert paper.process.stdout is not None
    for line in paper.process.stdout:
        _heard(paper, line)
    status = paper.process.wait()
    listener.join()
    paper.process.stdout.close()
    if paper.stand == "working":
        if status in (0, 1) and paper.files and not paper.cause:
            paper.stand = "done"
        else:
            last = next((line.strip() for line in reversed(said) if line.strip()), "")
            paper.cause = paper.cause or last or f"the maker ended with status {status}"
            paper.stand = "failed"


def _hear(process: subprocess.Popen[str], said: list[str]) -> None:
    """Keep the last that a process complains of."""
    assert process.stderr is not None
    for line in process.stderr:
        said.append(line[:400])
        del said[:-20]
    process.stderr.close()


def _heard(paper: Paper, line: str) -> None:
    """Take one event of ``underbag make --progress json``; what is none is passed over."""
    try:
        event = json.loads(line)
    except ValueError:
        return
    match event:
        case {"event": "making", "export": str(name), "done": int(done), "of": int(of)}:
            paper.making, paper.done, paper.of = name, done, of
        case {"event": "wrote", "file": str(name), "bytes": int(size)}:
            paper.files.append((name, size))
        case {"event": "end"}:
            paper.done = paper.of
        case {"event": "failed", "cause": str(cause)}:
            paper.cause = cause


def _end(process: subprocess.Popen[str]) -> None:
    """End a process, by force where it does not listen."""
    process.terminate()
    try:
        process.wait(PATIENCE)
    except subprocess.TimeoutExpired:
        process.kill()
