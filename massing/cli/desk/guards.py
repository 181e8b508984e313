"""Who may ask: this machine's own browser, at the address that holds the secret, for little."""

from __future__ import annotations

import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Message = MutableMapping[str, Any]
App = Callable[
    [Message, Callable[[], Awaitable[Message]], Callable[[Message], Awaitable[None]]],
    Awaitable[None],
]

MOST_BYTES = 2_000_000  # of a request's body; a scene file's text is the largest
LARGER = {"board/open": 30_000_000}  # but of a drawing that is laid on the board
HOSTS = ("127.0.0.1", "localhost", "[::1]")
POLICY = (
    "default-src 'none'; script-src 'self' {script}; style-src 'self'; img-src 'self' blob: data:; "
    "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


def new_secret() -> str:
    """A word that cannot be guessed, for the desk's address."""
    return secrets.token_urlsafe(24)


class Guards:
    """An ASGI application that asks for host, origin, secret and size before it lets one in.

    A request without the secret is told that there is nothing here. The secret is the first
    step of the path, and is taken off it. ``script`` is the hash of the one script that may
    stand in the page itself.
    """

    def __init__(self, app: App, secret: str, port: int, script: str = "") -> None:
        self._app = app
        policy = (b"content-security-policy", POLICY.format(script=script).encode())
        self._headers = (policy, *HEADERS)
        self._secret = secret
        self._hosts = {f"{host}:{port}" for host in HOSTS}
        self._origins = {f"http://{host}" for host in self._hosts}

    async def __call__(
        self,
        scope: Message,
        receive: Callable[[], Awaitable[Message]],
        send: Callable[[Message], Awaitable[None]],
    ) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        headers = {name.lower(): value for name, value in scope["headers"]}
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await self._refuse(send, *refusal)
            return
        path = scope["path"][len(self._secret) + 1 :] or "/"
        scope = {**scope, "path": path, "raw_path": path.encode()}
        receive = _bounded(receive, _most(path.lstrip("/")))
        await self._app(scope, receive, self._with_headers(send))

    def _refusal(self, scope: Message, headers: dict[bytes, bytes]) -> tuple[int, str] | None:
        if headers.get(b"host", b"").decode("latin-1") not in self._hosts:
            return 421, "another host was asked for"
        origin = headers.get(b"origin")
        if origin is not None and origin.decode("latin-1") not in self._origins:
            return 403, "asked from another page"
        if headers.get(b"sec-fetch-site", b"none") not in (b"none", b"same-origin"):
            return 403, "asked from another page"
        first, _, rest = scope["path"].lstrip("/").partition("/")
        if not secrets.compare_digest(first.encode(), self._secret.encode()):
            return 404, "nothing here"
        if ".." in rest.split("/") or "\\" in rest or "\0" in rest or "//" in rest:
            return 404, "nothing here"
        if scope["method"] not in ("GET", "HEAD") and origin is None:
            return 403, "asked from no page"
        try:
            length = int(headers.get(b"content-length", b"0"))
        except ValueError:
            return 400, "no length"
        return (413, "too much") if length > _most(rest) else None

    def _with_headers(
        self, send: Callable[[Message], Awaitable[None]]
    ) -> Callable[[Message], Awaitable[None]]:
        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                ours = {name for name, _ in self._headers}
                kept = [pair for pair in message.get("headers", ()) if pair[0].lower() not in ours]
                message = {**message, "headers": [*kept, *self._headers]}
            await send(message)

        return sent

    async def _refuse(
        self, send: Callable[[Message], Awaitable[None]], status: int, words: str
    ) -> None:
        headers = [(b"content-type", b"text/plain; charset=utf-8"), *self._headers]
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": words.encode()})


class TooMuch(Exception):
    """A body that went on past its bound."""


def _most(path: str) -> int:
    return LARGER.get(path, MOST_BYTES)


def _bounded(
    receive: Callable[[], Awaitable[Message]], most: int
) -> Callable[[], Awaitable[Message]]:
    got = 0

    async def counted() -> Message:
        nonlocal got
        message = await receive()
        got += len(message.get("body", b""))
        if got > most:
            raise TooMuch
        return message

    return counted
