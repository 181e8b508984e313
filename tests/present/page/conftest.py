"""A page of the bundled scene with small stand-in pictures, open in a browser."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from massing.present.page.page import page_html
from massing.present.page.subject import Shown, Subject
from massing.study.pictures import focus_points
from massing.study.study import read_study
from tests.helpers.browser import PATIENCE_MS, browser

SCENES = Path(__file__).parents[3] / "scenes"


MARSH = SCENES / "marsh_road.yaml"
LIGHT_SCENE = MARSH.read_text(encoding="utf-8").replace("barrel tile", "plain")


@pytest.fixture(scope="package")
def study():
    """The bundled scene without its six thousand tiles, which a machine without a card draws
    slowly; one test puts them back."""
    return read_study(MARSH, LIGHT_SCENE)


@pytest.fixture(scope="package")
def subject(study, tmp_path_factory):
    """The scene's subject; each picture an even tone of its own, so that they can be told apart."""
    folder = tmp_path_factory.mktemp("pictures")
    shown = []
    for view in ("elevation", "street"):
        for sun in study.suns:
            for look in ("clay", "materials"):
                if (view, look) == ("street", "materials"):
                    continue  # not every view has every look
                for design in study.designs:
                    tone = (37 * len(shown) + 20) % 230
                    path = folder / f"{len(shown)}.png"
                    Image.fromarray(np.full((100, 160, 3), tone, dtype=np.uint8)).save(path)
                    shown.append(Shown(design.name, view, sun, look, path))
    return Subject(
        loaded=study.loaded,
        designs=study.designs,
        models=study.models,
        suns=study.suns,
        bounds_m=study.bounds_m,
        focus=focus_points(study.designs),
        pictures=tuple(shown),
    )


@pytest.fixture(scope="package")
def html(subject):
    return page_html(subject)


@pytest.fixture(scope="package")
def opened(html, tmp_path_factory):
    """The page opened from a disk, its model drawn; with all it said and asked for."""
    path = tmp_path_factory.mktemp("page") / "page.html"
    path.write_text(html, encoding="utf-8")
    with browser() as running:
        page = running.new_page(viewport={"width": 1000, "height": 760})
        page.set_default_timeout(PATIENCE_MS)
        said, asked = [], []
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda fault: said.append(str(fault)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.as_uri())
        page.wait_for_function(
            "stage.dataset.drawn !== undefined || stage.dataset.failed !== undefined"
        )
        settle(page)
        yield SimpleNamespace(page=page, said=said, asked=asked, path=path)


def settle(page):
    """Wait until all that is in hand is drawn."""
    page.evaluate("stage.viewer.settled()")
