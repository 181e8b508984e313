"""A new scene from eight answers: the house as drawn and three porches to set against it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from massing.build.house import build
from massing.findings.report import findings
from massing.resolve.design import resolve
from massing.scene.edit import on_one_line
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.units import FOOT_M, INCH_M, format_length, parse_compass, parse_length

STOREYS = ("one", "two", "three")
PORCHES = ("thin piers", "one storey", "full height")
UNITS = ("feet", "metric")
PINNED = ("diameter", "entablature")  # what a builder draws too thin; the canon has its own
# Common practice, no source: a first storey, those over it, one alone; what a bay takes at least.
FIRST_STOREY_M, UPPER_STOREY_M, TALL_STOREY_M = 11.0 * FOOT_M, 10.0 * FOOT_M, 12.5 * FOOT_M
LEAST_BAY_M = 5.5 * FOOT_M


@dataclass(frozen=True)
class Answers:
    """What is asked of a new house; lengths in metres, ``front_faces`` as a scene writes it.

    ``porch`` is one of :data:`PORCHES`, ``units`` of :data:`UNITS`.
    """

    place: str
    latitude_deg: float
    longitude_deg: float
    front_faces: str
    width_m: float
    depth_m: float
    storeys: int
    bays: int
    porch: str
    units: str


@dataclass(frozen=True)
class Question:
    """One question: the answer's field, words for a person, what is taken unless they say more."""

    field: str
    words: str
    allowed: str
    default: str


def questions(units: str = "feet") -> tuple[Question, ...]:
    """The eight questions in the order in which they are asked, units first."""
    feet = units == "feet"
    return (
        Question("units", "Sizes in", "feet or metric", units),
        Question(
            "place",
            "Town",
            "a town, with its state or country after a comma, or latitude, longitude",
            "Beaufort, South Carolina" if feet else "Swellendam, South Africa",
        ),
        Question(
            "front_faces",
            "The front faces",
            "a compass point, S 25 E, or degrees from north",
            "S" if feet else "N",
        ),
        Question("width", "Width of the house", "a length", "48 ft" if feet else "14.4 m"),
        Question("depth", "Depth of the house", "a length", "34 ft" if feet else "10.2 m"),
        Question("storeys", "Storeys", "1, 2 or 3", "2"),
        Question("bays", "Windows and door along the front", "an odd number from 3 to 9", "5"),
        Question("porch", "Porch as drawn", ", ".join(PORCHES), PORCHES[0]),
    )


def answer(given: Mapping[str, str]) -> Answers:
    """Read the answers as they were written; what is missing is the question's default.

    Raises:
        ValueError: ``FIELD: given X, allowed: Y``, for the first that cannot be read.
    """
    units = _one_of("units", given.get("units", "") or UNITS[0], UNITS)
    asked = {q.field: q for q in questions(units)}
    said = {field: " ".join((given.get(field) or q.default).split()) for field, q in asked.items()}
    place, latitude, longitude = _place(said["place"], asked["place"].allowed)
    try:
        parse_compass(said["front_faces"])
    except ValueError:
        raise _fault(asked["front_faces"], said["front_faces"]) from None
    lengths = {}
    for field, least_m, most_m in (("width", 16 * FOOT_M, 200.0), ("depth", 12 * FOOT_M, 200.0)):
        try:
            lengths[field] = parse_length(said[field])
        except ValueError:
            raise _fault(asked[field], said[field]) from None
        if not least_m <= lengths[field] <= most_m:
            between = f"{format_length(least_m, units)} to {format_length(most_m, units)}"
            raise ValueError(f"{field}: given {said[field]}, allowed: {between}")
    storeys = dict(zip(STOREYS, "123", strict=True)).get(said["storeys"].lower(), said["storeys"])
    if storeys not in tuple("123"):
        raise _fault(asked["storeys"], said["storeys"])
    room = [n for n in "3579" if int(n) * LEAST_BAY_M <= lengths["width"]] or ["3"]
    if said["bays"] not in room:
        raise ValueError(f"bays: given {said['bays']}, allowed on this width: {', '.join(room)}")
    return Answers(
        place,
        latitude,
        longitude,
        said["front_faces"],
        lengths["width"],
        lengths["depth"],
        int(storeys),
        int(said["bays"]),
        _one_of("porch", said["porch"], PORCHES),
        units,
    )


def _fault(question: Question, given: str) -> ValueError:
    return ValueError(f"{question.field}: given {given}, allowed: {question.allowed}")


def _one_of(field: str, given: str, allowed: Sequence[str]) -> str:
    found = [word for word in allowed if word.startswith(" ".join(given.lower().split()))]
    if len(found) != 1:
        raise ValueError(f"{field}: given {given}, allowed: {', '.join(allowed)}")
    return found[0]


def _place(text: str, allowed: str) -> tuple[str, float, float]:
    from massing.edit.towns import towns_named

    first, _, second = text.partition(",")
    try:
        latitude, longitude = float(first), float(second)
    except ValueError:
        towns = towns_named(text, 1)
        if not towns:
            raise ValueError(f"place: given {text}, allowed: {allowed}") from None
        town = towns[0]
        return town.words, town.latitude_deg, town.longitude_deg
    if not (-90.0 <= latitude <= 90.0 and -180.0 <= longitude <= 180.0):
        raise ValueError(f"place: given {text}, allowed: latitude -90 to 90, longitude -180 to 180")
    return "The site", latitude, longitude


def new_scene(asked: Answers, title: str = "A new house") -> str:
    """The text of a scene that is valid and can be built, with three porches to compare.

    An alternative that this house has no room for gives way to a smaller one: six columns to
    four, columns that suit the order and clear the openings to the canon's spacing. Those that
    stand far apart or before windows are offered only where no others can be built.

    Raises:
        ValueError: no porch at all can be built on such a house; says what stood in the way.
    """
    base, why = _first_that_stands(asked, _as_drawn(asked))
    if base is None:
        raise ValueError(why)
    chosen: dict[str, dict[str, Any]] = {}
    for tries in _alternatives(asked):
        clear = None
        for name, changes in tries:
            porch = {**base, **dict.fromkeys(PINNED), **changes}
            if name in chosen or _stands(asked, porch) is not None:
                continue
            clear = clear or (name, changes)
            if not _asked_about(asked, porch):
                clear = name, changes
                break
        if clear is not None:
            chosen[clear[0]] = clear[1]
    return _written(asked, title, base, chosen)


def _as_drawn(asked: Answers) -> list[dict[str, Any]]:
    """Porches a builder might have drawn, the likeliest first."""
    thin = format_length(8.0 * INCH_M, "feet") if asked.units == "feet" else "200 mm"
    shallow = format_length(12.0 * INCH_M, "feet") if asked.units == "feet" else "300 mm"
    tall = {"height": "eaves"} if asked.porch == "full height" else {}
    deep = "8 ft" if asked.units == "feet" else "2.4 m"
    drawn: dict[str, Any] = {"order": "pier", "columns": 4, "depth": deep, **tall}
    if asked.porch != "one storey":
        drawn |= {"diameter": thin, "entablature": shallow}
    return [
        {**drawn, "columns": columns, **spacing}
        for columns in (4, 2)
        for spacing in ({"spacing": "bays"}, {"spacing": "araeostyle"}, {})
    ]


def _alternatives(asked: Answers) -> list[list[tuple[str, dict[str, Any]]]]:
    def tries(words: str, porch: dict[str, Any], counts: Sequence[int]) -> Any:
        names = {2: "Two", 4: "Four", 6: "Six", 8: "Eight"}
        return [
            (f"{names[n]} {words}", {**porch, "columns": n, "spacing": spacing})
            for n in counts
            for spacing in (None, "eustyle", "canon")
        ]

    many = [n for n in (8, 6, 4, 2) if n <= asked.bays + 1]
    rail: dict[str, Any] = {"balustrade": {}}
    return [
        tries("Tuscan columns", {"order": "tuscan"}, [n for n in (4, 2) if n <= asked.bays + 1]),
        tries("Doric columns", {"order": "doric", **rail}, many),
        tries("Ionic columns", {"order": "ionic"}, [n for n in (4, 2) if n <= asked.bays + 1]),
    ]


def _first_that_stands(
    asked: Answers, porches: Sequence[dict[str, Any]]
) -> tuple[dict[str, Any] | None, str]:
    why = ""
    for porch in porches:
        fault = _stands(asked, porch)
        if fault is None:
            return porch, ""
        why = why or fault
    return None, why


def _stands(asked: Answers, porch: dict[str, Any]) -> str | None:
    """None when such a porch can be built on the house, else why not."""
    said = {field: value for field, value in porch.items() if value is not None}
    try:
        scene = Scene.model_validate({**_common(asked, "New"), "porch": said})
        build(resolve(scene, "new"))
    except (DesignError, ValueError) as fault:
        return str(fault)
    return None


def _asked_about(asked: Answers, porch: dict[str, Any]) -> bool:
    """Whether its columns stand before openings, or wider apart than any book has them."""
    said = {field: value for field, value in porch.items() if value is not None}
    design = resolve(Scene.model_validate({**_common(asked, "New"), "porch": said}), "new")
    return bool({"masked openings", "wide spacing"} & {found.key for found in findings(design)})


def _common(asked: Answers, title: str) -> dict[str, Any]:
    first = TALL_STOREY_M if asked.storeys == 1 else FIRST_STOREY_M
    heights = [first, *[UPPER_STOREY_M] * (asked.storeys - 1)]
    return {
        "title": title,
        "units": asked.units,
        "site": {
            "place": asked.place,
            "latitude": asked.latitude_deg,
            "longitude": asked.longitude_deg,
            "front_faces": asked.front_faces,
        },
        "house": {
            "width": format_length(asked.width_m, asked.units),
            "depth": format_length(asked.depth_m, asked.units),
            "storeys": [format_length(h, asked.units) for h in heights],
            "bays": asked.bays,
        },
        "times": ["summer solstice 12:30", "equinox 10:30", "winter solstice 10:00"],
    }


def _written(
    asked: Answers, title: str, base: dict[str, Any], chosen: dict[str, dict[str, Any]]
) -> str:
    common = _common(asked, title)
    site, house = common["site"], common["house"]

    lines = [
        "# The house as drawn, and porches to set against it. Lengths as the trade writes them:",
        "# 5'-6 1/2\", 16 in, 1.2 m, 450 mm. What is left out follows from the canon or from",
        "# common practice: massing show prints every size and where it comes from.",
        f"title: {on_one_line(title)}",
        f"units: {asked.units}",
        "",
        "site:",
        f"  place: {on_one_line(site['place'])}",
        f"  latitude: {site['latitude']}   # north and east positive",
        f"  longitude: {site['longitude']}",
        f"  front_faces: {on_one_line(site['front_faces'])}",
        "",
        "house:",
        f"  width: {on_one_line(house['width'])}",
        f"  depth: {on_one_line(house['depth'])}",
        f"  storeys: {on_one_line(house['storeys'])}   # floor to floor; the last, to wall top",
        f"  bays: {house['bays']}",
        "  # windows:               # one line to a storey, from the ground up; else by rule",
        "",
        "porch:                     # as drawn",
        *(f"  {key}: {on_one_line(value)}" for key, value in base.items()),
        "",
        "alternatives:              # each says only what it changes; null: by the canon again",
    ]
    for name, changes in chosen.items():
        lines.append(f"  {name}:")
        lines.append("    porch:")
        unpinned: dict[str, Any] = {key: None for key in PINNED if key in base}
        for key, value in {**changes, **unpinned}.items():
            if base.get(key) != value:
                lines.append(f"      {key}: {on_one_line(value)}")
    lines += ["", "times:", *(f"  - {time}" for time in common["times"])]
    lines += ["", "views: [elevation, street, close-up]", "looks: [clay, materials]"]
    return "\n".join(lines) + "\n"
