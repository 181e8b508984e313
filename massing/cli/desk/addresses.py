"""The desk's addresses, by subject; each is a line that hands on to who knows the answer."""

from __future__ import annotations

import asyncio
import base64
import hashlib
import json
from collections.abc import AsyncIterator
from functools import cache
from importlib import resources
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, Response, StreamingResponse
from starlette.routing import Route

from massing.cli.desk.answers import answering, asked, posting, taking
from massing.cli.desk.office import Office
from massing.cli.desk.papers import PAPERS
from massing.cli.desk.refusal import Refusal
from massing.present.page.files import MODULES, module_source

BEAT_S = 15.0  # a line to a listening page, so that a dead one is known
FONTS = ("400-normal", "400-italic", "500-normal")
_SCRIPTS = ("desk.js", "ask.js", "begin.js", "better.js", "board.js", "fields.js", "lines.js")
_FILES = {"desk.css": "text/css", **dict.fromkeys(_SCRIPTS, "text/javascript")}
_SIZES = {"small": (200, 125), "draft": (800, 500), "final": (1600, 1000)}


def routes(office: Office) -> list[Route]:
    """Every address of the desk."""
    return [
        *_page_routes(office),
        *_new_routes(office),
        *_scene_routes(office),
        *_board_routes(office),
        *_picture_routes(office),
        *_proposal_routes(office),
    ]


def _post(path: str, answer: Any) -> Route:
    return Route(path, posting(answer), methods=["POST"])


def _get(path: str, answer: Any) -> Route:
    return Route(path, answering(answer))


# --- the page's own files --------------------------------------------------------------------


def _page_routes(office: Office) -> list[Route]:
    async def page(_request: Request) -> Response:
        text = _static("desk.html" if office.is_open else "begin.html")
        return Response(text.replace("IMPORT_MAP", _import_map()), media_type="text/html")

    return [
        Route("/", page),
        Route("/module/{name:path}", _module),
        Route("/font/{name}", _font),
        Route("/file/{name}", _file),
    ]


@cache
def _static(name: str) -> str:
    return resources.files("massing.cli.desk").joinpath("static", name).read_text(encoding="utf-8")


def _import_map() -> str:
    return json.dumps({"imports": {name: f"./module/{name}" for name in MODULES}})


def import_map_hash() -> str:
    """As a content policy names it: the one script that stands in the page itself."""
    digest = hashlib.sha256(_import_map().encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


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


# --- a new scene -----------------------------------------------------------------------------


def _new_routes(office: Office) -> list[Route]:
    return [
        _get("/questions", lambda r: office.questions(*asked(r, "units"))),
        _get("/towns", lambda r: office.towns(*asked(r, "text"))),
        _post("/begin", office.begin),
    ]


# --- the scene -------------------------------------------------------------------------------


def _scene_routes(office: Office) -> list[Route]:
    def house(given: dict[str, Any]) -> Response:
        have = [str(name) for name in given["have"]]
        content = office.desk.house(str(given["name"]), have)
        return Response(content, media_type="application/octet-stream")

    def size(given: dict[str, Any]) -> dict[str, Any]:
        pixel_m = float(given.get("pixel_m", 0.0))
        return {"size": office.desk.dragged(given["line"], float(given["by_m"]), pixel_m)}

    def drawing_png(_request: Request) -> Response:
        return Response(office.desk.drawing_png(), media_type="image/png")

    return [
        _get("/state", lambda _: office.desk.state()),
        _get("/finishes", lambda _: office.desk.finishes()),
        _get("/views", lambda _: office.desk.views()),
        _get("/drawing", lambda _: office.desk.drawing()),
        _get("/drawing.png", drawing_png),
        _get("/suns", lambda r: office.desk.suns(*asked(r, "day"))),
        _get("/sheet", lambda r: office.desk.sheet(*asked(r, "name", "day", "clock"))),
        _get("/fields", lambda r: office.desk.fields(*asked(r, "name", "search"))),
        Route("/events", _events(office)),
        _post("/house", house),
        _post("/size", size),
        _post("/do", lambda g: office.desk.do(str(g["what"]), g)),
    ]


def _events(office: Office) -> Any:
    """A line to a listening page whenever something changed, here or on disk."""

    async def events(request: Request) -> Response:
        async def told() -> AsyncIterator[str]:
            last, quiet = "", 0.0
            while not await request.is_disconnected():
                mark = office.desk.mark()
                if mark != last:
                    last, quiet = mark, 0.0
                    yield f"data: {last}\n\n"
                elif quiet >= BEAT_S:
                    quiet = 0.0
                    yield ": still here\n\n"
                await asyncio.sleep(0.2)
                quiet += 0.2

        return StreamingResponse(told(), media_type="text/event-stream")

    return events


# --- sizes off a drawing ---------------------------------------------------------------------


def _board_routes(office: Office) -> list[Route]:
    def png(_request: Request) -> Response:
        return Response(office.desk.board_png(), media_type="image/png")

    def opened(request: Request, data: bytes) -> dict[str, Any]:
        (name,) = asked(request, "name")
        return office.desk.open_drawing(name, data)

    def met(given: dict[str, Any]) -> dict[str, Any]:
        x, y = (float(value) for value in given["at"])
        return office.desk.met(x, y, float(given["reach"]))

    return [
        _get("/board", lambda _: office.desk.board_said()),
        _get("/board.png", png),
        Route("/board/open", taking(opened), methods=["POST"]),
        _post("/board/met", met),
        _post("/board", lambda g: office.desk.take_off(str(g["what"]), g)),
    ]


# --- pictures and papers ---------------------------------------------------------------------


def _picture_routes(office: Office) -> list[Route]:
    """Where pictures are begun, ended, looked after and fetched."""

    def begin(given: dict[str, Any]) -> dict[str, Any]:
        options: dict[str, Any] = {"quality": "final" if given.get("size") == "final" else "draft"}
        options["size_px"] = _SIZES[str(given.get("size", "draft"))]
        study = office.desk.study()
        begun = office.pictures.start(study, [str(o) for o in given.get("only", [])], options)
        return {"begun": begun, **office.pictures.said()}

    def print_paper(given: dict[str, Any]) -> dict[str, Any]:
        kind, design = str(given["kind"]), str(given["name"])
        if kind not in PAPERS:
            raise Refusal(f"given {kind}, allowed: {', '.join(PAPERS)}")
        study = office.desk.study()
        names = [each.name for each in study.designs]
        if design not in names:
            raise Refusal(f"given {design}, allowed: {', '.join(names)}")
        begun = office.pictures.start_paper(study, kind, design)
        return {"begun": begun, **office.pictures.said()}

    def stop(_given: dict[str, Any]) -> dict[str, Any]:
        office.pictures.stop()
        return office.pictures.said()

    def picture(request: Request) -> Response:
        found = office.pictures.file(request.path_params["name"])
        if found is None:
            raise HTTPException(404)
        return FileResponse(found, media_type="image/png")

    def paper(request: Request) -> Response:
        name = request.path_params["name"]
        found = office.pictures.paper(name)
        if found is None or not found.is_file():
            raise HTTPException(404)
        return FileResponse(found, media_type="application/octet-stream", filename=name)

    return [
        _get("/pictures", lambda _: office.pictures.said()),
        _post("/pictures", begin),
        _post("/stop", stop),
        _get("/picture/{name:path}", picture),
        _post("/papers", print_paper),
        _get("/paper/{name}", paper),
    ]


# --- better porches --------------------------------------------------------------------------


def _proposal_routes(office: Office) -> list[Route]:
    porches = office.porches

    def look(_given: dict[str, Any]) -> dict[str, Any]:
        return {"begun": porches.start(office.desk), **porches.said()}

    def drawn(request: Request) -> Response:
        found = porches.picture(request.path_params["letter"])
        if found is None:
            raise HTTPException(404)
        return Response(found, media_type="image/svg+xml")

    return [
        _get("/proposals", lambda _: porches.said()),
        _post("/proposals", look),
        _get("/proposal/{letter}", drawn),
        _post("/proposal", lambda g: porches.take(office.desk, str(g["letter"]))),
    ]
