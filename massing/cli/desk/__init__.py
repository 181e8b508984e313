"""``massing desk``: a house changed and looked at in a browser on the designer's own machine.

``guards``     who may ask for what
``office``     what is open: a scene at the desk, or eight questions until there is one
``desk``       the scene in hand, kept beside its file until it is saved
``takeoff``    the builder's drawing, and sizes taken off it
``parcels``    models and suns as bytes for the page
``better``     better porches looked for meanwhile
``jobs``       pictures and papers made meanwhile
``papers``     what is handed out on paper
``answers``    how a question or a deed is answered
``addresses``  the addresses, by subject
``server``     serving them

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
    parser.add_argument(
        "scene",
        type=Path,
        nargs="?",
        metavar="SCENE",
        help="scene file; begun if missing, and asked for in the page if left out",
    )
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
    scene: Path | None = options.scene
    if scene is not None and not scene.exists():
        begun = argparse.ArgumentParser()
        new.arguments(begun)
        new.run(begun.parse_args([str(scene)]))

    def opened(address: str) -> None:
        print(f"{address}\nCtrl-C ends it.", flush=True)
        if not options.no_browser:
            webbrowser.open(address)

    with suppress(KeyboardInterrupt):  # which is how a desk ends
        serve(scene, _out(options), options.port, opened)
    return FINE


def _out(options: argparse.Namespace) -> Path | None:
    if options.scene is None and options.out is None:
        return None
    return out_folder(options, options.scene.stem if options.scene else "")
