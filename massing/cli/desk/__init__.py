"""``massing desk``: a house changed and looked at in a browser on the designer's own machine.

``guards``   who may ask for what
``desk``     the scene in hand, kept beside its file until it is saved
``parcels``  models and suns as bytes for the page
``jobs``     pictures and papers made meanwhile
``papers``   what is handed out on paper
``server``   the addresses, and serving them

The page itself is in ``static/``. No rules and no geometry here: what can be changed, and what
comes of it, is :mod:`massing.edit`'s and the library's.
"""

from __future__ import annotations

import argparse
from contextlib import suppress
from pathlib import Path

from massing.cli.shared import FINE, Refused, out_folder, takes_out_folder

SUMMARY = "change the porch by hand and see it in true sun, in a browser on this machine"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, made new where there is none, and where to be found."""
    parser.add_argument("scene", type=Path, metavar="SCENE", help="scene file; begun if missing")
    parser.add_argument("--port", type=int, default=0, help="default: one that is free")
    parser.add_argument("--no-browser", action="store_true", help="only print the address")
    takes_out_folder(parser, "renders/ and the scene's name")


def run(options: argparse.Namespace) -> int:
    """Serve the desk until Ctrl-C."""
    import webbrowser

    from massing.cli import new

    try:
        from massing.cli.desk.server import serve
    except ModuleNotFoundError as missing:
        if missing.name not in ("starlette", "uvicorn"):
            raise
        raise Refused("the desk needs two packages more: pip install 'massing[desk]'") from None
    if not 0 <= options.port < 65536:
        raise Refused(f"--port: given {options.port}, allowed: 0 to 65535")
    if not options.scene.exists():
        begun = argparse.ArgumentParser()
        new.arguments(begun)
        new.run(begun.parse_args([str(options.scene)]))

    def opened(address: str) -> None:
        print(f"{address}\nCtrl-C ends it.", flush=True)
        if not options.no_browser:
            webbrowser.open(address)

    with suppress(KeyboardInterrupt):  # which is how a desk ends
        serve(options.scene, out_folder(options, options.scene.stem), options.port, opened)
    return FINE
