"""What the page's server does: one function for each thing that the page asks for."""

import re
from collections.abc import Awaitable, Callable
from time import perf_counter, process_time

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...model.errors import LayupError, UnderbagError
from ..exports import EXPORTS
from ..read.layup_file import LARGEST_FILE
from ..read.starter import starter
from .answer import framed
from .blanks import blanks_list
from .body import TooMuch, Unreadable, changes, number, read_json, text
from .desk import Desk
from .edit import edited
from .fields import form, materials
from .markup import page
from .own_files import demo_folder, demos, own_files
from .papers import Papers
from .views import ready

FRAME = "application/octet-stream"
Answer = Callable[[Request], Awaitable[Response]]


class Answers:
    """The answers over one desk and its papers.

    Parameters
    ----------
    desk
        The document.
    papers
        The maker of files.
    token
        Secret of this run, told to the page alone.
    """

    __slots__ = ("_demos", "_desk", "_files", "_page", "_papers")

    def __init__(self, desk: Desk, papers: Papers, token: str) -> None:
        self._desk = desk
        self._papers = papers
        self._files = own_files()
        self._demos = demos()
        self._page = page(token)

    def app(self) -> Starlette:
        """Application that stands behind the guard."""
        posts: dict[str, Answer] = {
            "change": self._change,
            "undo": self._undo,
            "redo": self._redo,
            "new": self._new,
            "open": self._open,
            "demo": self._demo,
            "save": self._save,
            "copied": self._copied,
        }
        return Starlette(
            routes=[
                Route("/", self._whole, methods=["GET"]),
                Route("/favicon.ico", _nothing, methods=["GET"]),
                Route("/desk/form", self._form, methods=["GET"]),
                Route("/desk/state", self._state, methods=["GET"]),
                Route("/desk/copy", self._copy, methods=["GET"]),
                Route("/desk/views", self._views, methods=["GET"]),
                Route("/desk/blanks", self._blanks, methods=["GET"]),
                Route("/desk/papers", self._paper, methods=["GET"]),
                Route("/desk/papers/{number:int}", self._paper_file, methods=["GET"]),
                Route("/desk/papers/all", self._paper_all, methods=["GET"]),
                Route("/desk/papers/make", self._make, methods=["POST"]),
                Route("/desk/papers/stop", self._stop, methods=["POST"]),
                *(Route(f"/desk/{name}", _told(answer), methods=["POST"]) for name, answer in posts.items()),
                Route("/{folder}/{name}", self._file, methods=["GET"]),
            ],
            exception_handlers={
                TooMuch: _too_much,
                Unreadable: _unreadable,
                UnderbagError: _refused,
                OSError: _unwritten,
                Exception: _broken,
            },
        )

    async def _whole(self, request: Request) -> Response:
        return Response(self._page, media_type="text/html")

    async def _file(self, request: Request) -> Response:
        found = self._files.get(request.url.path)
        if found is None:
            raise HTTPException(404)
        return Response(found[0], media_type=found[1])

    async def _form(self, request: Request) -> Response:
        exports = [{"name": one.name, "about": one.about} for one in EXPORTS]
        return JSONResponse(
            {"form": form(), "materials": materials(), "demos": list(self._demos), "exports": exports}
        )

    async def _state(self, request: Request) -> Response:
        return self._framed(request.query_params.get("known", ""))

    async def _change(self, request: Request) -> Response:
        content = await read_json(request)
        wanted, stroke = changes(content), text(content, "stroke")
        return self._do(content, lambda: self._desk.change(wanted, stroke))

    async def _undo(self, request: Request) -> Response:
        return self._do(await read_json(request), self._desk.undo)

    async def _redo(self, request: Request) -> Response:
        return self._do(await read_json(request), self._desk.redo)

    async def _new(self, request: Request) -> Response:
        content = await read_json(request)
        wanted = changes(content)
        return self._do(content, lambda: self._desk.open(edited(starter("flat"), wanted).encode()))

    async def _open(self, request: Request) -> Response:
        content = await read_json(request)
        data = text(content, "text", LARGEST_FILE).encode(errors="replace")
        return self._do(content, lambda: self._desk.open(data))

    async def _demo(self, request: Request) -> Response:
        content = await read_json(request)
        data = self._demos.get(text(content, "name"))
        if data is None:
            raise HTTPException(404)
        return self._do(content, lambda: self._desk.open(data, demo_folder()))

    async def _save(self, request: Request) -> Response:
        return self._do(await read_json(request), self._desk.save)

    async def _copied(self, request: Request) -> Response:
        return self._do(await read_json(request), self._desk.copied)

    async def _copy(self, request: Request) -> Response:
        return _download(
            f"{_plain(self._desk.now.file.layup.title)}.toml", self._desk.now.version.text.encode()
        )

    async def _views(self, request: Request) -> Response:
        seen = self._desk.now.picture
        return JSONResponse({"html": "" if seen is None else ready(seen)})

    async def _blanks(self, request: Request) -> Response:
        planned = self._desk.now.examined.planned
        return JSONResponse({"html": "" if planned is None else blanks_list(planned.plan)})

    async def _make(self, request: Request) -> Response:
        names = text(await read_json(request), "names").split(",")
        known = tuple(one.name for one in EXPORTS if one.name in names)
        if not known:
            raise Unreadable("no papers")
        self._papers.start(self._desk.now.version.text, known, self._desk.beside())
        return JSONResponse(self._papers.told())

    async def _stop(self, request: Request) -> Response:
        self._papers.stop()
        return JSONResponse(self._papers.told())

    async def _paper(self, request: Request) -> Response:
        return JSONResponse(self._papers.told())

    async def _paper_file(self, request: Request) -> Response:
        return _download(*self._papers.file(request.path_params["number"]))

    async def _paper_all(self, request: Request) -> Response:
        return _download(*self._papers.file(-1))

    def _do(self, content: dict[str, object], act: Callable[[], None]) -> Response:
        """Act on the desk, unless the page has not seen its newest version yet."""
        known = text(content, "known")
        if number(content, "revision") != self._desk.revision:
            return self._framed(known, 409)
        begun, spent = perf_counter(), process_time()
        act()
        answer = self._framed(known)
        clock, processor = 1000.0 * (perf_counter() - begun), 1000.0 * (process_time() - spent)
        answer.headers["server-timing"] = f"desk;dur={clock:.2f}, processor;dur={processor:.2f}"
        return answer

    def _framed(self, known: str, status: int = 200) -> Response:
        return Response(framed(self._desk, known), status, media_type=FRAME)


def _told(answer: Answer) -> Answer:
    """Answer of a request that must say in JSON what it wants."""

    async def checked(request: Request) -> Response:
        if request.headers.get("content-type", "").partition(";")[0] != "application/json":
            raise Unreadable("no JSON")
        return await answer(request)

    return checked


def _plain(title: str) -> str:
    """Name for a file, of plain small letters, digits and hyphens only."""
    return re.sub("[^a-z0-9]+", "-", title.lower()).strip("-")[:60].strip("-") or "layup"


def _download(name: str, content: bytes) -> Response:
    return Response(
        content, media_type=FRAME, headers={"content-disposition": f'attachment; filename="{name}"'}
    )


async def _nothing(request: Request) -> Response:
    return Response(status_code=204)


async def _too_much(request: Request, error: Exception) -> Response:
    return JSONResponse({"message": "Too much at once."}, 413, {"connection": "close"})


async def _unreadable(request: Request, error: Exception) -> Response:
    return JSONResponse({"message": f"The page asked for something unknown: {error}."}, 400)


async def _refused(request: Request, error: Exception) -> Response:
    """Tell what a document or a paper can't be, and at which key."""
    key = error.key if isinstance(error, LayupError) else ""
    return JSONResponse({"message": str(error), "key": key}, 422)


async def _unwritten(request: Request, error: Exception) -> Response:
    cause = getattr(error, "strerror", None) or str(error)
    return JSONResponse({"message": f"It could not be written: {cause}."}, 500)


async def _broken(request: Request, error: Exception) -> Response:
    """Tell of a fault of the program itself; the document stays as it was."""
    return JSONResponse({"message": f"A fault of the program: {type(error).__name__}."}, 500)
