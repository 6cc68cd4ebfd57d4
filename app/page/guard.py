"""Who may talk to the page's server: only the page itself, in a browser on this computer.

The guard stands before everything else. It looks at names and marks of a request, never at what it carries.
"""

from collections.abc import Mapping
from secrets import compare_digest

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

TOKEN = "x-underbag-token"
"""Header that carries the token of this run."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS: Mapping[str, str] = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
    "cache-control": "no-store",
}
"""What every answer says to the browser."""

LARGEST_BODY = 1_100_000
"""Bytes that a request may carry: a layup file and a little around it."""


class Guard:
    """Lets through what comes from the page itself, and gives every answer its headers.

    Parameters
    ----------
    app
        What stands behind it.
    hosts
        Names with port that the server goes by.
    token
        Secret of this run; the page sends it with everything but plain reads of the page's own files.
    """

    __slots__ = ("_app", "_hosts", "_token")

    def __init__(self, app: ASGIApp, hosts: tuple[str, ...], token: str) -> None:
        self._app = app
        self._hosts = hosts
        self._token = token.encode()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return

        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    own[name] = value
            await send(message)

        status, why = self._refused(scope)
        if status:
            await PlainTextResponse(why, status, {"connection": "close"})(scope, receive, marked)
            return
        await self._app(scope, receive, marked)

    def _refused(self, scope: Scope) -> tuple[int, str]:
        """Status and reason of a refusal; 0 where there is none."""
        headers = Headers(scope=scope)
        hosts, origins = headers.getlist("host"), headers.getlist("origin")
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            return 400, "This server goes by another name."
        if any(site not in ("same-origin", "none") for site in headers.getlist("sec-fetch-site")):
            return 403, "Asked for by another site."
        is_read = scope["method"] in ("GET", "HEAD")
        if (origins or not is_read) and origins != [f"http://{hosts[0]}"]:
            return 403, "Asked for by another origin."
        is_own_file = is_read and not scope["path"].startswith("/desk/")
        if not is_own_file and not self._knows(headers.get(TOKEN, "")):
            return 403, "The token of this run is missing."
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit() or len(length) > 12 or int(length) > LARGEST_BODY:
            return 413, "Too much at once."
        return 0, ""

    def _knows(self, token: str) -> bool:
        return compare_digest(token.encode(), self._token)
