"""Who is let in to the desk: this machine's own page with the secret, and nobody else."""

from __future__ import annotations

import asyncio
import shutil
from pathlib import Path

import httpx
import pytest

from massing.cli.desk.guards import LARGER, MOST_BYTES
from massing.cli.desk.office import Office
from massing.cli.desk.server import desk_app

SCENES = Path(__file__).parents[3] / "scenes"
PORT = 4711
OURS = f"http://127.0.0.1:{PORT}"
SECRET = "a-secret"


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    folder = tmp_path_factory.mktemp("desk")
    shutil.copy(SCENES / "vineyard_cottage.yaml", folder / "cottage.yaml")
    (folder / "mine.png").write_bytes(b"not to be read")
    out = folder / "out"
    (out / "sheets").mkdir(parents=True)
    (out / "sheets" / "one.png").write_bytes(b"a picture")
    (out / "study.json").write_text("{}", encoding="utf-8")
    return desk_app(Office(folder / "cottage.yaml", out), SECRET, PORT)


def ask(app, method: str, path: str, **given) -> httpx.Response:
    async def asked() -> httpx.Response:
        transport = httpx.ASGITransport(app=app)
        async with httpx.AsyncClient(transport=transport, base_url=OURS) as client:
            return await client.request(method, path, **given)

    return asyncio.run(asked())


def post(app, path: str, body: bytes = b"{}", **headers: str) -> httpx.Response:
    return ask(app, "POST", path, content=body, headers={"origin": OURS, **headers})


def test_the_page_comes_with_the_secret(app):
    page = ask(app, "GET", f"/{SECRET}/")
    assert page.status_code == 200
    policy = page.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "http" not in policy, "nothing from elsewhere"
    assert "unsafe" not in policy


@pytest.mark.parametrize("path", ["/", "/state", "/wrong/state", f"/{SECRET}x/state", "//state"])
def test_without_the_secret_there_is_nothing(app, path):
    answer = ask(app, "GET", path)
    assert (answer.status_code, answer.text) == (404, "nothing here")


@pytest.mark.parametrize("host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1:1", ""])
def test_another_host_is_refused(app, host):
    assert ask(app, "GET", f"/{SECRET}/state", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1"])
def test_another_page_is_refused(app, origin):
    assert ask(app, "GET", f"/{SECRET}/state", headers={"origin": origin}).status_code == 403
    assert post(app, f"/{SECRET}/do", origin=origin).status_code == 403
    crossed = ask(app, "GET", f"/{SECRET}/state", headers={"sec-fetch-site": "cross-site"})
    assert crossed.status_code == 403


def test_a_change_without_a_page_is_refused(app):
    assert ask(app, "POST", f"/{SECRET}/do", content=b"{}").status_code == 403


def test_too_much_is_refused_said_or_not(app):
    much = b" " * (MOST_BYTES + 1)
    assert post(app, f"/{SECRET}/do", much).status_code == 413

    async def dripping():
        for _ in range(MOST_BYTES // 100_000 + 2):
            yield b" " * 100_000

    unsaid = ask(app, "POST", f"/{SECRET}/do", content=dripping(), headers={"origin": OURS})
    assert unsaid.status_code == 413


def test_of_100_mb_hardly_more_than_is_allowed_is_read(app):
    size, piece, taken = 100_000_000, 500_000, 0

    async def dripping():
        nonlocal taken
        while taken < size:
            taken += piece
            yield b" " * piece

    said = {"origin": OURS, "content-length": str(size)}
    for path, most in (("do", MOST_BYTES), ("board/open?name=a", LARGER["board/open"])):
        taken = 0
        answer = ask(app, "POST", f"/{SECRET}/{path}", content=dripping(), headers=said)
        assert (answer.status_code, taken) == (413, 0)
        answer = ask(app, "POST", f"/{SECRET}/{path}", content=dripping(), headers={"origin": OURS})
        assert answer.status_code == 413
        assert taken <= most + 2 * piece


def test_a_drawing_may_be_larger_and_no_more(app):
    much = b" " * (MOST_BYTES + 1)
    answer = post(app, f"/{SECRET}/board/open?name=front.png", much)
    assert answer.status_code == 409, "let in, and told that it is no drawing"
    assert answer.json()["fault"].startswith("front.png: given ")
    most = LARGER["board/open"]
    assert post(app, f"/{SECRET}/board/open?name=a", b" " * (most + 1)).status_code == 413
    for path in ("board/open/../do", "/board/open", "board/open/", "do"):
        assert post(app, f"/{SECRET}/{path}", much).status_code in (404, 413)

    async def dripping():
        for _ in range(most // 1_000_000 + 2):
            yield b" " * 1_000_000

    origin = {"origin": OURS}
    unsaid = ask(app, "POST", f"/{SECRET}/board/open?name=a", content=dripping(), headers=origin)
    assert unsaid.status_code == 413
    assert ask(app, "POST", f"/{SECRET}/board/open?name=a", content=b"x").status_code == 403
    assert post(app, "/board/open?name=a", b"x").status_code == 404
    assert post(app, f"/{SECRET}/board/open", b"x").json()["fault"] == "name is missing"


@pytest.mark.parametrize(
    "name",
    [
        "../mine.png",
        "sheets/../../mine.png",
        "..%2f..%2fmine.png",
        "%2e%2e/mine.png",
        "/etc/passwd",
        "study.json",
        "sheets/none.png",
        "sheets\\one.png",
    ],
)
def test_no_file_but_the_pictures(app, name):
    assert ask(app, "GET", f"/{SECRET}/picture/sheets/one.png").content == b"a picture"
    answer = ask(app, "GET", f"/{SECRET}/picture/{name}")
    assert answer.status_code == 404, name
    for room in ("file", "module", "font", "paper"):
        assert ask(app, "GET", f"/{SECRET}/{room}/{name}").status_code == 404


@pytest.mark.parametrize("body", [b"", b"[]", b"{", b'{"what": 3}', b"\xff", b"[" * 50_000])
def test_what_cannot_be_read_is_said_in_a_line(app, body):
    answer = post(app, f"/{SECRET}/do", body)
    assert answer.status_code in (400, 409)
    assert "\n" not in answer.json()["fault"]


def test_a_change_goes_through(app):
    done = post(app, f"/{SECRET}/do", b'{"what": "set", "field": "porch.depth", "text": "2.3 m"}')
    assert done.json()["edited"] is True
    assert post(app, f"/{SECRET}/do", b'{"what": "undo"}').json()["edited"] is False
