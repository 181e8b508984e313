"""The desk behind its guards, served on this machine alone until Ctrl-C."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path

from starlette.applications import Starlette

from massing.cli.desk.addresses import import_map_hash, routes
from massing.cli.desk.guards import Guards, new_secret
from massing.cli.desk.office import Office

HOST = "127.0.0.1"


def desk_app(office: Office, secret: str, port: int) -> Guards:
    """The desk as an ASGI application behind its guards."""
    return Guards(Starlette(routes=routes(office)), secret, port, import_map_hash())


def serve(
    scene: Path | None,
    out: Path | None = None,
    port: int = 0,
    opened: Callable[[str], object] = lambda url: None,
) -> None:
    """Serve the desk of a scene, or of one yet to be begun in the working folder, until it is
    interrupted; ``opened`` is told its address.

    Raises:
        SceneError: the scene cannot be opened.
        OSError: the port is taken.
    """
    import uvicorn

    office = Office(scene, out, Path.cwd())
    secret = new_secret()
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listening:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((HOST, port))
        listening.listen()  # before the address is told, so that nobody is turned away
        port = int(listening.getsockname()[1])
        config = uvicorn.Config(
            desk_app(office, secret, port),
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
            office.close()
