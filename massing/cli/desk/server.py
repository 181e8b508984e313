"""The desk's addresses, and serving them on this machine alone until Ctrl-C."""

from __future__ import annotations

import asyncio
import base64
import hashlib
import json
import socket
from collections.abc import AsyncIterator, Awaitable, Callable
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from massing.cli.desk.better import Porches
from massing.cli.desk.desk import Desk, Refusal
from massing.cli.desk.guards import Guards, TooMuch, new_secret
from massing.cli.desk.jobs import Pictures
from massing.cli.desk.papers import PAPERS
from massing.present.page.files import MODULES, module_source

HOST = "127.0.0.1"
BEAT_S = 15.0  # a line to a listening page, so that a dead one is known
FONTS = ("400-normal", "400-italic", "500-normal")
_FILES = {
    "desk.css": "text/css",
    **dict.fromkeys(("desk.js", "ask.js", "better.js", "fields.js", "lines.js"), "text/javascript"),
}
_SIZES = {"small": (200, 125), "draft": (800, 500), "final": (1600, 1000)}


def desk_app(desk: Desk, pictures: Pictures, secret: str, port: int) -> Guards:
    """The desk as an ASGI application behind its guards."""
    porches = Porches()

    def answering(
        answer: Callable[[Request], Any],
    ) -> Callable[[Request], Awaitable[Response]]:
        async def handle(request: Request) -> Response:
            try:
                found = await run_in_threadpool(answer, request)
            except Refusal as refusal:
                return JSONResponse({"fault": str(refusal)}, status_code=409)
            return found if isinstance(found, Response) else JSONResponse(found)

        return handle

    def posting(
        answer: Callable[[dict[str, Any]], Any],
    ) -> Callable[[Request], Awaitable[Response]]:
        async def handle(request: Request) -> Response:
            try:
                given = json.loads(await request.body())
            except (ValueError, RecursionError):
                given = None
            except TooMuch:
                return JSONResponse({"fault": "too much was sent"}, status_code=413)
            if not isinstance(given, dict):
                return JSONResponse({"fault": "the request cannot be read"}, status_code=400)
            try:
                found = await run_in_threadpool(answer, given)
            except Refusal as refusal:
                return JSONResponse({"fault": str(refusal)}, status_code=409)
            except (KeyError, TypeError, ValueError):
                return JSONResponse({"fault": "the request cannot be read"}, status_code=400)
            return found if isinstance(found, Response) else JSONResponse(found)

        return handle

    def asked(request: Request, *names: str) -> list[str]:
        missing = [name for name in names if name not in request.query_params]
        if missing:
            raise Refusal(f"{missing[0]} is missing")
        return [request.query_params[name] for name in names]

    def picture(request: Request) -> Response:
        found = pictures.file(request.path_params["name"])
        if found is None:
            raise HTTPException(404)
        return FileResponse(found, media_type="image/png")

    def house(given: dict[str, Any]) -> Response:
        have = [str(name) for name in given["have"]]
        content = desk.house(str(given["name"]), have)
        return Response(content, media_type="application/octet-stream")

    def size(given: dict[str, Any]) -> dict[str, Any]:
        pixel_m = float(given.get("pixel_m", 0.0))
        return {"size": desk.dragged(given["line"], float(given["by_m"]), pixel_m)}

    def begin(given: dict[str, Any]) -> dict[str, Any]:
        options: dict[str, Any] = {"quality": "final" if given.get("size") == "final" else "draft"}
        options["size_px"] = _SIZES[str(given.get("size", "draft"))]
        study = desk.study()
        begun = pictures.start(study, [str(o) for o in given.get("only", [])], options)
        return {"begun": begun, **pictures.said()}

    def print_paper(given: dict[str, Any]) -> dict[str, Any]:
        kind, design = str(given["kind"]), str(given["name"])
        if kind not in PAPERS:
            raise Refusal(f"given {kind}, allowed: {', '.join(PAPERS)}")
        study = desk.study()
        names = [each.name for each in study.designs]
        if design not in names:
            raise Refusal(f"given {design}, allowed: {', '.join(names)}")
        begun = pictures.start_paper(study, kind, design)
        return {"begun": begun, **pictures.said()}

    def look(_given: dict[str, Any]) -> dict[str, Any]:
        return {"begun": porches.start(desk), **porches.said()}

    def proposal(request: Request) -> Response:
        found = porches.picture(request.path_params["letter"])
        if found is None:
            raise HTTPException(404)
        return Response(found, media_type="image/svg+xml")

    def paper(request: Request) -> Response:
        name = request.path_params["name"]
        found = pictures.paper(name)
        if found is None or not found.is_file():
            raise HTTPException(404)
        return FileResponse(found, media_type="application/octet-stream", filename=name)

    def stop(_given: dict[str, Any]) -> dict[str, Any]:
        pictures.stop()
        return pictures.said()

    async def events(request: Request) -> Response:
        async def told() -> AsyncIterator[str]:
            last, quiet = 0, 0.0
            while not await request.is_disconnected():
                if desk.version != last:
                    last, quiet = desk.version, 0.0
                    yield f"data: {last}\n\n"
                elif quiet >= BEAT_S:
                    quiet = 0.0
                    yield ": still here\n\n"
                await asyncio.sleep(0.2)
                quiet += 0.2

        return StreamingResponse(told(), media_type="text/event-stream")

    app = Starlette(
        routes=[
            Route("/", _page),
            Route("/module/{name:path}", _module),
            Route("/font/{name}", _font),
            Route("/file/{name}", _file),
            Route("/state", answering(lambda _: desk.state())),
            Route("/finishes", answering(lambda _: desk.finishes())),
            Route("/views", answering(lambda _: desk.views())),
            Route("/drawing", answering(lambda _: desk.drawing())),
            Route(
                "/drawing.png",
                answering(lambda _: Response(desk.drawing_png(), media_type="image/png")),
            ),
            Route("/suns", answering(lambda r: desk.suns(*asked(r, "day")))),
            Route("/sheet", answering(lambda r: desk.sheet(*asked(r, "name", "day", "clock")))),
            Route("/fields", answering(lambda r: desk.fields(*asked(r, "name", "search")))),
            Route("/events", events),
            Route("/house", posting(house), methods=["POST"]),
            Route("/size", posting(size), methods=["POST"]),
            Route("/do", posting(lambda g: desk.do(str(g["what"]), g)), methods=["POST"]),
            Route("/pictures", answering(lambda _: pictures.said())),
            Route("/pictures", posting(begin), methods=["POST"]),
            Route("/stop", posting(stop), methods=["POST"]),
            Route("/picture/{name:path}", answering(picture)),
            Route("/papers", posting(print_paper), methods=["POST"]),
            Route("/paper/{name}", answering(paper)),
            Route("/proposals", answering(lambda _: porches.said())),
            Route("/proposals", posting(look), methods=["POST"]),
            Route("/proposal/{letter}", answering(proposal)),
            Route(
                "/proposal",
                posting(lambda g: porches.take(desk, str(g["letter"]))),
                methods=["POST"],
            ),
        ]
    )
    return Guards(app, secret, port, _import_map_hash())


# --- the page's own files ------------------------------------------------------------------


@cache
def _static(name: str) -> str:
    return resources.files("massing.cli.desk").joinpath("static", name).read_text(encoding="utf-8")


def _import_map() -> str:
    return json.dumps({"imports": {name: f"./module/{name}" for name in MODULES}})


def _import_map_hash() -> str:
    """As a content policy names it: the one script that stands in the page itself."""
    digest = hashlib.sha256(_import_map().encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


async def _page(_request: Request) -> Response:
    text = _static("desk.html").replace("IMPORT_MAP", _import_map())
    return Response(text, media_type="text/html")


async def _module(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in MODULES:
        raise HTTPException(404)
    return Response(module_source(name), media_type="text/javascript")


async def _file(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in _FILES:
        raise HTTPException(404)
    return Response(_static(name), media_type=_FILES[name])


async def _font(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in FONTS:
        raise HTTPException(404)
    file = f"eb-garamond-latin-{name}.woff2"
    content = resources.files("massing.present.page").joinpath("static", "fonts", file).read_bytes()
    return Response(content, media_type="font/woff2")


# --- serving -------------------------------------------------------------------------------


def serve(
    scene: Path, folder: Path, port: int = 0, opened: Callable[[str], object] = lambda url: None
) -> None:
    """Serve the desk of a scene until it is interrupted; ``opened`` is told its address.

    Raises:
        SceneError: the scene cannot be opened.
        OSError: the port is taken.
    """
    import uvicorn

    desk = Desk(scene)
    pictures = Pictures(folder)
    secret = new_secret()
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((HOST, port))
        port = int(listening.getsockname()[1])
        app = desk_app(desk, pictures, secret, port)
        config = uvicorn.Config(
            app,
            log_level="critical",  # a listening page cut off at the end is no fault to print
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=1,
        )
        server = uvicorn.Server(config)
        opened(f"http://{HOST}:{port}/{secret}/")
        try:
            server.run(sockets=[listening])
        finally:
            pictures.stop()
