"""The page's cast shadow against rays through the same model."""

from __future__ import annotations

import base64

import numpy as np
import pytest

from massing.shadow.elevation import see_elevation, shadow_mask
from massing.shadow.front import ready_front

STEP_M = 0.02
AGREE = 0.97


@pytest.mark.parametrize("design", ["as drawn", "Six Doric columns"])
def test_the_shadow_on_the_front_is_that_of_the_rays(opened, study, design):
    page = opened.page
    chosen = next(d for d in study.designs if d.name == design)
    front = ready_front(chosen, study.models[design])
    (left, _, _), (right, _, top) = study.models[design].building_bounds
    width, height = int((right - left) / STEP_M), int(top / STEP_M)
    xs = left + STEP_M * (np.arange(width) + 0.5)
    zs = STEP_M * (height - np.arange(height) - 0.5)
    seen = see_elevation(front.caster, xs, zs)
    page.locator(f'input[name=design][value="{design}"]').check(force=True)
    frame = {
        "left": left,
        "right": left + STEP_M * width,
        "bottom": 0.0,
        "top": STEP_M * height,
        "width": width,
        "height": height,
    }
    for sun in study.suns:
        lit = shadow_mask(front.caster, seen, sun.direction)
        text = page.evaluate(
            """([sun, frame]) => {
                const viewer = document.querySelector("#stage").viewer;
                viewer.setSun(sun);
                const mask = viewer.sunMask(frame);
                let text = "";
                for (let i = 0; i < mask.length; i += 8192)
                    text += String.fromCharCode(...mask.subarray(i, i + 8192));
                return btoa(text);
            }""",
            [list(sun.direction), frame],
        )
        drawn = np.frombuffer(base64.b64decode(text), np.uint8).reshape(height, width)
        there = seen.owner >= 0
        assert ((drawn > 0) == there).mean() > 0.995, sun.label  # the same outline
        both = there & (drawn > 0)
        agree = ((drawn == 2) == lit)[both].mean()
        assert 0.05 < lit[both].mean() < 0.95  # a mask that could fail
        assert agree >= AGREE, (sun.label, agree)
