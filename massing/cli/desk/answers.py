"""How the desk answers: a question or a deed in, plain values or a refusal out."""

from __future__ import annotations

import json
from collections.abc import Awaitable, Callable
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from massing.cli.desk.guards import TooMuch
from massing.cli.desk.refusal import Refusal

Endpoint = Callable[[Request], Awaitable[Response]]


def answering(answer: Callable[[Request], Any]) -> Endpoint:
    """What is asked for by its address alone."""

    async def handle(request: Request) -> Response:
        try:
            found = await run_in_threadpool(answer, request)
        except Refusal as refusal:
            return refused(str(refusal), 409)
        return _sent(found)

    return handle


def posting(answer: Callable[[dict[str, Any]], Any]) -> Endpoint:
    """What is asked for, or done, by a JSON object."""

    async def handle(request: Request) -> Response:
        try:
            given = json.loads(await request.body())
        except (ValueError, RecursionError):
            given = None
        except TooMuch:
            return refused("too much was sent", 413)
        if not isinstance(given, dict):
            return refused("the request cannot be read", 400)
        try:
            found = await run_in_threadpool(answer, given)
        except Refusal as refusal:
            return refused(str(refusal), 409)
        except (KeyError, TypeError, ValueError):
            return refused("the request cannot be read", 400)
        return _sent(found)

    return handle


def taking(answer: Callable[[Request, bytes], Any]) -> Endpoint:
    """A file's bytes, taken in."""

    async def handle(request: Request) -> Response:
        try:
            found = await run_in_threadpool(answer, request, await request.body())
        except TooMuch:
            return refused("too much was sent", 413)
        except Refusal as refusal:
            return refused(str(refusal), 409)
        return _sent(found)

    return handle


def asked(request: Request, *names: str) -> list[str]:
    """What stands in an address by its names; raises Refusal where one is missing."""
    missing = [name for name in names if name not in request.query_params]
    if missing:
        raise Refusal(f"{missing[0]} is missing")
    return [request.query_params[name] for name in names]


def refused(words: str, status: int) -> Response:
    """One line that says why not."""
    return JSONResponse({"fault": words}, status_code=status)


def _sent(found: Any) -> Response:
    return found if isinstance(found, Response) else JSONResponse(found)
