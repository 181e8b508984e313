"""The model laid over the builder's own drawing, or a photograph square to the front.

Points of the front that are known in the image, or one known height, give the image's scale and
where the house stands in it; the model's elevation is then drawn pixel for pixel. Upright is
taken to be upright in the image, unless a rectangle on the front is known, by whose four corners
a photograph is straightened.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike
from PIL import Image

from massing.design.design import Design
from massing.edit.takeoff.straighten import straightened_with_foot
from massing.files import slug, write_by
from massing.parts.part import Model
from massing.present.ink.overlay import laid_over, side_by_side
from massing.present.sheets.given_image import given_image
from massing.present.sheets.paper import saver
from massing.scene.errors import DesignError
from massing.scene.load import LoadedScene
from massing.scene.spec import Drawing, KnownRectangle
from massing.study.study import Study
from massing.units import INCH_M, format_length
from massing.view.camera import Camera

LONGEST_PX = 2000  # larger images are made smaller to be drawn over
SHORTEST_PX = 16
CLOSEST_PX = 10.0  # known points nearer one another give no scale
MOST_APART = 1.5  # times that the scales across and up may differ and still be one drawing's


@dataclass(frozen=True)
class Fit:
    """How an image lies on the front.

    Attributes:
        metres_per_pixel: its scale.
        origin_px: where the middle of the front meets the ground, right and down.
        across: how much wider the known points stand in the image than on the house, at that
            scale, as a share; None where they stand over one another.
        up: the same for their heights.
        misses_m: ``(n, 2)`` how far each stands in the image from its place on the house, right
            and up.
    """

    metres_per_pixel: float
    origin_px: tuple[float, float]
    across: float | None
    up: float | None
    misses_m: tuple[tuple[float, float], ...]


def fit_points(pixels: ArrayLike, places_m: ArrayLike) -> Fit:
    """The scale and place of an image that bring known points nearest to where they belong.

    Args:
        pixels: ``(n, 2)`` right and down in the image.
        places_m: ``(n, 2)`` along the front and above the ground.

    Raises:
        ValueError: points too near one another, or so placed that no one scale fits.

    >>> fit = fit_points([(100, 400), (500, 200)], [(-4.0, 0.0), (4.0, 4.0)])
    >>> fit.metres_per_pixel, fit.origin_px, fit.across
    (0.02, (300.0, 400.0), 0.0)
    """
    seen = np.asarray(pixels, dtype=float) * [1.0, -1.0]
    there = np.asarray(places_m, dtype=float)
    p, m = seen - seen.mean(axis=0), there - there.mean(axis=0)
    if np.ptp(p, axis=0).max() < CLOSEST_PX:
        raise ValueError(f"points {CLOSEST_PX:.0f} pixels or more from one another")
    scale = float((p * m).sum() / (p * p).sum())
    if scale <= 0.0:
        raise ValueError("points that lie in the image as on the house: right of, or above")
    shares: list[float | None] = []
    for axis in (0, 1):
        if np.ptp(p[:, axis]) < CLOSEST_PX and np.ptp(m[:, axis]) < CLOSEST_PX * scale:
            shares.append(None)
            continue
        on_house = float((p[:, axis] * m[:, axis]).sum())
        ratio = scale * float((p[:, axis] ** 2).sum()) / on_house if on_house else np.inf
        if not 1.0 / MOST_APART < ratio < MOST_APART:
            raise ValueError("points whose widths and heights are of one scale")
        shares.append(round(ratio - 1.0, 9))
    origin = seen.mean(axis=0) - there.mean(axis=0) / scale
    misses = scale * p - m
    return Fit(
        scale,
        (float(origin[0]), float(-origin[1])),
        shares[0],
        shares[1],
        tuple((float(x), float(z)) for x, z in misses),
    )


def fit_drawing(drawing: Drawing) -> Fit:
    """The fit that a scene's drawing asks for; a pixel's place is its middle.

    Raises:
        DesignError: the points or the height give no scale.
    """
    if drawing.height is not None:
        known = drawing.height
        pixels = [known.foot, (known.foot[0], known.top[1])]
        places = [(known.along, known.above), (known.along, known.above + known.length)]
        field = "drawing.height.top"
        given = f"{known.top[1]:g} pixels down, over a foot at {known.foot[1]:g}"
    else:
        points = drawing.points or []
        pixels = [point.pixel for point in points]
        places = [(point.along, point.height) for point in points]
        field, given = "drawing.points", "points that do not fit"
    try:
        return fit_points(np.array(pixels) + 0.5, places)
    except ValueError as fault:
        raise DesignError(field, given, str(fault)) from None


@dataclass(frozen=True)
class Sheet:
    """The builder's drawing ready to be drawn over: its picture and how it lies on the front."""

    image: Image.Image
    fit: Fit


def read_sheet(loaded: LoadedScene) -> Sheet:
    """The scene's drawing.

    Raises:
        SceneError: the scene names no drawing, or one that cannot be used; one line.
    """
    scene = loaded.scene
    try:
        if scene.drawing is None:
            raise DesignError("drawing", "nothing", "an image and its known points or height")
        image = _opened(loaded.path.parent, scene.drawing.image)
        _check_pixels(scene.drawing, image)
        if scene.drawing.rectangle is not None:
            image, fit = _straight(image, scene.drawing.rectangle)
        else:
            fit = fit_drawing(scene.drawing)
    except DesignError as fault:
        raise loaded.error(scene.as_drawn, fault) from None
    factor = LONGEST_PX / max(image.size)
    if factor >= 1.0:
        return Sheet(image, fit)
    smaller = image.resize(
        (round(image.width * factor), round(image.height * factor)), Image.Resampling.LANCZOS
    )
    origin = (fit.origin_px[0] * factor, fit.origin_px[1] * factor)
    scale = fit.metres_per_pixel / factor
    return Sheet(smaller, Fit(scale, origin, fit.across, fit.up, fit.misses_m))


def _straight(image: Image.Image, known: KnownRectangle) -> tuple[Image.Image, Fit]:
    """A photograph as if taken square to the front, and how it lies on it.

    Raises:
        DesignError: corners that are no rectangle's.
    """
    corners = [(right + 0.5, down + 0.5) for right, down in known.corners]
    try:
        made, scale, (right, down) = straightened_with_foot(
            image, corners, known.width, known.height
        )
    except ValueError as fault:
        given, _, allowed = str(fault).removeprefix("given ").partition(", allowed: ")
        raise DesignError("drawing.rectangle.corners", given, allowed) from None
    origin = (right - known.along / scale, down + known.above / scale)
    return made, Fit(scale, origin, None, None, ())


def _opened(folder: Path, name: str) -> Image.Image:
    """An image file in plain colours, upright, on white."""
    try:
        image = given_image(folder, name)
    except ValueError as fault:
        given, _, allowed = str(fault).removeprefix("given ").partition(", allowed: ")
        raise DesignError("drawing.image", given, allowed) from None
    if min(image.size) < SHORTEST_PX:
        raise DesignError("drawing.image", name, f"{SHORTEST_PX} pixels or more each way")
    if image.mode[0] in "IF":  # 16 bits or more to the pixel
        values = np.asarray(image, dtype=float)
        span = float(np.ptp(values)) or 1.0
        image = Image.fromarray((255.0 * (values - values.min()) / span).astype(np.uint8))
    plain = Image.new("RGBA", image.size, "white")
    plain.alpha_composite(image.convert("RGBA"))
    return plain.convert("RGB")


def _check_pixels(drawing: Drawing, image: Image.Image) -> None:
    named = [(f"drawing.points.{i}.pixel", p.pixel) for i, p in enumerate(drawing.points or [])]
    if drawing.rectangle is not None:
        corners = enumerate(drawing.rectangle.corners)
        named = [(f"drawing.rectangle.corners.{i}", corner) for i, corner in corners]
    if drawing.height is not None:
        named = [(f"drawing.height.{k}", getattr(drawing.height, k)) for k in ("foot", "top")]
    for field, (right, down) in named:
        if right > image.width or down > image.height:
            raise DesignError(
                field,
                f"[{right:g}, {down:g}]",
                f"within the image's {image.width} by {image.height} pixels",
            )


def camera_over(sheet: Sheet, model: Model) -> Camera:
    """The camera that draws the model's front pixel for pixel over the image."""
    wide, tall = sheet.image.size
    scale, (right, down) = sheet.fit.metres_per_pixel, sheet.fit.origin_px
    before = float(model.building_bounds[0, 1]) - 20.0
    return Camera(
        "elevation",
        "ortho",
        ((wide / 2.0 - right) * scale, before, (down - tall / 2.0) * scale),
        ortho_width_m=wide * scale,
        width_px=wide,
        height_px=tall,
    )


def make_overlay(study: Study, design: Design, folder: Path) -> tuple[list[Path], list[str]]:
    """Draw one design's front over the builder's drawing and beside it.

    Returns:
        The two pictures, laid over and side by side, and what the fit says in lines.

    Raises:
        SceneError: see :func:`read_sheet`; also where parts of a design collide.
    """
    sheet = read_sheet(study.loaded)
    built = study.models[design.name]
    house = tuple(p for p in built.parts if not p.within("setting"))
    model = Model(house, built.name, built.notes)
    camera = camera_over(sheet, model)
    said = fit_lines(study.loaded.scene.drawing, sheet.fit, design.units)
    drawing = study.loaded.scene.drawing
    assert drawing is not None  # read_sheet has seen it
    heading = (study.loaded.scene.title, f"Front elevation, {design.name}", " · ".join(said[:2]))
    over = laid_over(sheet.image, model, camera, heading, units=design.units)
    beside = side_by_side(sheet.image, model, camera, heading, units=design.units)
    made = []
    for picture, ending in ((over, "laid-over"), (beside, "side-by-side")):
        path = folder / f"{slug(design.name)}_{ending}.png"
        write_by(path, saver(picture))
        made.append(path)
    return made, said


def fit_lines(drawing: Drawing | None, fit: Fit, units: str) -> list[str]:
    """What the fit says: the scale, how the points agree, and each point's miss if they do not."""
    feet = units == "feet"
    size = fit.metres_per_pixel / (INCH_M if feet else 0.001)
    said = [f"a pixel is {size:.3g} {'in' if feet else 'mm'}"]
    if drawing is not None and drawing.rectangle is not None:
        return [*said, "straightened by a rectangle on the front, and scaled by it"]
    if drawing is None or drawing.points is None:
        return [*said, "scaled by one known height"]
    shares = (("wider", "narrower", fit.across), ("taller", "lower", fit.up))
    words = [
        f"{abs(share):.1%} {more if share > 0 else less}" if abs(share) >= 0.0005 else f"no {more}"
        for more, less, share in shares
        if share is not None
    ]
    one_way = None in (fit.across, fit.up)
    said.append(
        "the known points are in one line and give the scale alone"
        if one_way
        else f"between the known points the drawing is {' and '.join(words)} than the house"
    )
    for i, (x, z) in enumerate(fit.misses_m):
        if max(abs(x), abs(z)) > fit.metres_per_pixel:
            right, up = ("right", "left")[x < 0], ("high", "low")[z < 0]
            said.append(
                f"point {i + 1} stands {format_length(abs(x), units)} too far {right} "
                f"and {format_length(abs(z), units)} too {up} in the drawing"
            )
    return said
