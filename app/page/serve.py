"""The page's server: on this computer only, on a free port, until it is ended from the keyboard."""

import socket
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from secrets import token_urlsafe

import uvicorn
from starlette.types import ASGIApp

from .answers import Answers
from .desk import Desk
from .guard import Guard
from .papers import Papers

LOOPBACK = "127.0.0.1"


def guarded(desk: Desk, papers: Papers, port: int, token: str) -> ASGIApp:
    """Application with its guard before it."""
    hosts = (f"{LOOPBACK}:{port}", f"localhost:{port}")
    return Guard(Answers(desk, papers, token).app(), hosts, token)


def serve(desk: Desk, port: int, opened: Callable[[str], None], closed: Callable[[], None]) -> None:
    """Serve the page until the process is told to end.

    Parameters
    ----------
    port
        The port; 0 takes one that is free.
    opened
        Hears the address once the server listens.
    closed
        Is called before the process ends, however it is told to.

    Raises
    ------
    OSError
        The port is taken.
    """
    papers = Papers()
    with socket.create_server((LOOPBACK, port)) as listener:
        number = listener.getsockname()[1]
        app = guarded(desk, papers, number, token_urlsafe(32))
        config = uvicorn.Config(
            _with_end(app, lambda: opened(f"http://{LOOPBACK}:{number}/"), (papers.close, closed)),
            log_level="error",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            ws="none",
            lifespan="on",
            timeout_keep_alive=30,
            timeout_graceful_shutdown=2,
            limit_concurrency=64,
        )
        try:
            uvicorn.Server(config).run(sockets=[listener])
        finally:
            # a second Ctrl-C skips the orderly end
            papers.close()
            closed()


def _with_end(app: ASGIApp, begin: Callable[[], None], ends: tuple[Callable[[], None], ...]) -> ASGIApp:
    """Application that says when it begins and ends."""
    from starlette.applications import Starlette
    from starlette.routing import Mount

    @asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        begin()
        yield
        for end in ends:
            end()

    return Starlette(routes=[Mount("/", app)], lifespan=life)
