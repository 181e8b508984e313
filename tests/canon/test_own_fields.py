"""A canon of one's own, field by field: what is read, and the last value either side of a limit.

The limits are choices of ours, wide enough for any order that was ever drawn and narrow enough to
be built; here they are worked out for a module of 12 parts (column 3 to 20 diameters, entablature
half a diameter to 5, no member over 6 diameters high or reaching more than 4 from the axis).
"""

from __future__ import annotations

import copy
import json
from dataclasses import replace

import pytest

from massing.canon import Member, plate
from massing.canon.entasis import CURVES as ENTASIS
from massing.canon.mouldings import CURVES as MOULDINGS
from massing.canon.order import Ornament
from massing.canon.own import MOST_BYTES, own_canon
from massing.canon.sources import source

RIVER = {
    "canon": "river house",
    "order": "doric",
    "source": "measured on an old porch, 2024",
    "parts_per_module": 12,
    "upper_radius": 10.5,
    "clear_spacing": 3,
    "entasis": "from the base",
    "flutes": {"count": 18, "kind": "fillet"},
    "shaft": {
        "height": 180,
        "foot": [{"name": "cincture", "kind": "fillet", "height": 1, "reach": 13}],
        "head": [{"name": "astragal", "kind": "bead", "height": 2, "foot": 11, "head": 11.5}],
    },
    "pedestal": [
        {"name": "die", "kind": "fillet", "height": 40, "reach": 16, "square": True},
        {"name": "cap", "kind": "ovolo", "height": 5, "foot": 16, "head": 19},
    ],
    "base": [{"name": "plinth", "kind": "fillet", "height": 6, "reach": 15, "square": True}],
    "capital": [
        {"name": "echinus", "kind": "ovolo", "height": 8, "foot": 10.5, "head": 14},
        {"name": "abacus", "kind": "fillet", "height": 4, "reach": 14.5, "square": True},
    ],
    "architrave": [{"name": "fascia", "kind": "fillet", "height": 12, "reach": 0}],
    "frieze": [
        {
            "name": "frieze",
            "kind": "fillet",
            "height": 16,
            "reach": 0,
            "row": {
                "kind": "triglyph",
                "width": 10,
                "spacing": 30,
                "reach": 1,
                "height": 15,
                "guttae": 6,
                "gutta_height": 1.5,
            },
        }
    ],
    "cornice": [
        {"name": "bed mould", "kind": "cyma reversa", "height": 4, "foot": 0.5, "head": 4},
        {"name": "corona", "kind": "fillet", "height": 6, "reach": 12, "recess": 0.5},
    ],
}


def changed(changes):
    """The file with some of its fields given otherwise; ``None`` leaves one out."""
    data = copy.deepcopy(RIVER)
    for path, value in changes.items():
        *way, last = (int(p) if p.isdigit() else p for p in path.split("."))
        group = data
        for step in way:
            group = group[step]
        if value is None:
            del group[last]
        else:
            group[last] = value
    return data


@pytest.fixture
def read(tmp_path):
    """The plate of a file with these changes."""

    def of(changes=(), data=None):
        whole = changed(dict(changes)) if data is None else data
        (tmp_path / "river.yaml").write_text(json.dumps(whole).replace("NaN", ".nan"))
        name = own_canon(tmp_path, "river.yaml")
        return plate(whole["order"], name)

    return of


@pytest.fixture
def said(read):
    """What is said against a file with these changes; "" where it is taken."""

    def of(changes=(), data=None):
        try:
            read(changes, data)
        except ValueError as fault:
            return str(fault)
        return ""

    return of


def test_each_field_is_taken_as_it_stands(read):
    found = read()
    assert (found.canon, found.order, found.parts_per_module) == ("river house", "doric", 12.0)
    assert (found.upper_radius, found.shaft_height) == (10.5, 180.0)
    assert (found.entasis, found.clear_spacing_diameters) == ("from the base", 3.0)
    assert (found.flutes, found.flute_kind, found.square) == (18, "fillet", False)
    assert (found.capital_kind, found.capital_sizes) == ("turned", ())
    assert found.shaft_foot == (Member("cincture", "fillet", 1.0, 13.0, 13.0),)
    assert found.shaft_head == (Member("astragal", "bead", 2.0, 11.0, 11.5),)
    triglyph = Ornament("triglyph", 10.0, 30.0, 1.0, 15.0, 6, 1.5)
    assert dict(found.groups) == {
        "pedestal": (
            Member("die", "fillet", 40.0, 16.0, 16.0, square=True),
            Member("cap", "ovolo", 5.0, 16.0, 19.0),
        ),
        "base": (Member("plinth", "fillet", 6.0, 15.0, 15.0, square=True),),
        "capital": (
            Member("echinus", "ovolo", 8.0, 10.5, 14.0),
            Member("abacus", "fillet", 4.0, 14.5, 14.5, square=True),
        ),
        "architrave": (Member("fascia", "fillet", 12.0, 0.0, 0.0),),
        "frieze": (Member("frieze", "fillet", 16.0, 0.0, 0.0, row=triglyph),),
        "cornice": (
            Member("bed mould", "cyma reversa", 4.0, 0.5, 4.0),
            Member("corona", "fillet", 6.0, 12.0, 12.0, recess=0.5),
        ),
    }
    assert set(found.marks.values()) == {"given by the scene's own file"}
    known = ("plate", "upper radius", "base", "capital", "shaft", "cornice", "clear spacing")
    assert {*known, "architrave", "frieze", "pedestal"} == set(found.marks)
    own = source(found.source)
    assert own.name == "measured on an old porch, 2024, river.yaml"
    assert own.mark == "given by the scene's own file"


def test_what_is_left_out_is_none_or_vignola_s(read):
    left = {"flutes": None, "shaft.foot": None, "shaft.head": None, "pedestal": None}
    found = read({**left, "frieze.0.row": None, "parts_per_module": 24, "base.0.square": None})
    assert (found.flutes, found.flute_kind) == (0, "")
    assert found.shaft_foot == found.shaft_head == ()
    assert found.groups["base"][0].square is False
    assert found.groups["frieze"][0].row is None
    theirs = plate("doric").groups["pedestal"]  # 12 parts to the module, here 24
    assert found.groups["pedestal"] == tuple(
        replace(m, height=2 * m.height, foot=2 * m.foot, head=2 * m.head, recess=2 * m.recess)
        for m in theirs
    )
    row = {f"frieze.0.row.{key}": None for key in ("guttae", "gutta_height")}
    ornament = read(row).groups["frieze"][0].row
    assert (ornament.guttae, ornament.gutta_height) == (0, 0.0)
    for given, flutes in (
        ({"count": 20}, (20, "arris")),
        ({"count": 1}, (1, "arris")),
        ({"count": 0}, (0, "")),
        ({"count": 0, "kind": "fillet"}, (0, "")),
        ({"count": 60, "kind": "arris"}, (60, "arris")),
    ):
        found = read({"flutes": given})
        assert (found.flutes, found.flute_kind) == flutes


def test_a_carved_capital_is_another_canon_s_in_these_parts(read, said):
    """In 36 parts to the module instead of Vignola's 18 all is twice as many parts."""
    ionic = {"order": "ionic", "capital": "vignola", "parts_per_module": 36, "upper_radius": 30}
    long = {"shaft.height": 500, "shaft.foot": None, "shaft.head": None, "base.0.height": 30}
    deep = {"architrave.0.height": 40, "frieze.0.height": 40}
    found, like = read({**ionic, **long, **deep}), plate("ionic")
    assert like.parts_per_module == 18.0
    assert (found.capital_kind, like.capital_kind) == ("ionic", "ionic")
    assert found.capital_sizes == tuple((name, 2.0 * size) for name, size in like.capital_sizes)
    assert found.capital_sizes
    for mine, theirs in zip(found.groups["capital"], like.groups["capital"], strict=True):
        assert (mine.name, mine.kind) == (theirs.name, theirs.kind)
        assert (mine.height, mine.foot) == pytest.approx((2 * theirs.height, 2 * theirs.foot))
    assert found.group_height("capital") / found.diameter == pytest.approx(
        like.group_height("capital") / like.diameter
    )
    having = "chambers, gibbs, palladio, vignola, ware"
    allowed = f"allowed: members, or the canon of one: {having}"
    assert said({"capital": "nobody"}) == f"given river.yaml, capital: given nobody, {allowed}"
    assert "the canon of one: vignola" in said({"order": "mutular doric", "capital": "palladio"})


M, ROW = "cornice.0", "frieze.0.row"
# field, least, most; what the file must have beside it
LIMITS = [
    ("parts_per_module", 1.0, 1000.0, {}),
    ("upper_radius", 3.6, 12.0, {}),
    ("shaft.height", 12.0, 720.0, {}),
    ("flutes.count", 0.0, 60.0, {}),
    ("clear_spacing", 0.5, 12.0, {}),
    (f"{M}.height", 0.012, 144.0, {}),
    (f"{M}.foot", 0.0, 96.0, {}),
    (f"{M}.head", 0.0, 96.0, {}),
    ("cornice.1.reach", 0.0, 96.0, {}),
    ("cornice.1.recess", 0.0, 5.4, {}),  # of 6 high
    (f"{ROW}.width", 0.12, 96.0, {f"{ROW}.spacing": 300}),
    (f"{ROW}.spacing", 10.5, 384.0, {}),  # of 10 wide
    (f"{ROW}.reach", 0.0, 96.0, {}),
    (f"{ROW}.height", 0.8, 16.0, {}),  # of 16 high
    (f"{ROW}.guttae", 0.0, 12.0, {}),
    (f"{ROW}.gutta_height", 0.0, 96.0, {}),
    ("shaft.foot.0.height", 0.012, 144.0, {}),
    ("shaft.head.0.foot", 0.0, 96.0, {}),
    ("pedestal.0.height", 0.012, 144.0, {}),
    ("base.0.height", 0.012, 144.0, {}),
    ("capital.0.height", 0.012, 144.0, {}),
    ("architrave.0.height", 0.012, 144.0, {}),
    ("frieze.0.height", 0.012, 144.0, {}),
]


def written(path):
    """A field as it is named to the reader: members counted from 1."""
    return "".join(
        f"[{int(p) + 1}]" if p.isdigit() else f".{p}" if i else p
        for i, p in enumerate(path.split("."))
    )


@pytest.mark.parametrize(("field", "least", "most", "beside"), LIMITS, ids=[x[0] for x in LIMITS])
def test_a_number_is_taken_up_to_its_limits(said, field, least, most, beside):
    name = "cornice[2].foot" if field == "cornice.1.reach" else written(field)  # both ends of it
    allowed = f"allowed: a number from {least:g} to {most:g}"
    slack = 1e-9 * most
    for inside in (least, most):
        assert f"{name}: given" not in said({**beside, field: inside})
    for outside in (least - slack, most + slack, True, "many", float("nan"), [1], {"a": 1}):
        assert allowed in said({**beside, field: outside})
        assert f"{name}: given " in said({**beside, field: outside})


@pytest.mark.parametrize(
    ("field", "count", "words"),
    [
        ("flutes.count", 20.5, "flutes: given a group, allowed: a whole count, kind arris or"),
        (f"{ROW}.guttae", 5.5, "frieze[1].row.guttae: given 5.5, allowed: a whole number"),
    ],
)
def test_a_count_is_whole(said, field, count, words):
    assert words in said({field: count})
    assert said({field: float(int(count))}) == ""


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        # 186 parts of base and capital's 18 less the shaft: 24 parts to the diameter
        ({"shaft.height": 53.9, "base.0.height": 6}, "column: given 3 diameters high, allowed: 3"),
        ({"shaft.height": 54.0}, ""),
        ({"shaft.height": 462.0}, ""),
        ({"shaft.height": 462.2}, "column: given 20 diameters high, allowed: 3 to 20"),
        ({"frieze.0.height": 98.0}, ""),
        ({"frieze.0.height": 98.5}, "entablature: given 5.02 diameters high, allowed: 0.5 to 5"),
        ({"frieze.0.row": None, "frieze.0.height": 1, "architrave.0.height": 1}, ""),
        (
            {"frieze.0.row": None, "frieze.0.height": 1, "architrave.0.height": 0.9},
            "entablature: given 0.496 diameters high, allowed: 0.5 to 5",
        ),
        ({"shaft.foot.0.height": 88}, ""),
        (
            {"shaft.foot.0.height": 88.1},
            "shaft: given end mouldings 90.1 high, allowed: at most half of its height",
        ),
    ],
)
def test_the_whole_can_be_built(said, changes, words):
    found = said(changes)
    assert words in found
    assert bool(words) == bool(found)


def bare(name="die", **fields):
    return {"name": name, "kind": "fillet", "height": 1, "reach": 1, **fields}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"canon": "a" * 40}, ""),
        ({"canon": "a" * 41}, f"canon: given {'a' * 37}..., allowed: a name in small letters"),
        ({"canon": "A" + "a" * 39}, f"canon: given A{'a' * 39}, allowed: a name in small letters"),
        ({"source": "s"}, ""),
        ({"canon": "River house"}, "canon: given River house, allowed: a name in small letters"),
        ({"canon": "palladio"}, "canon: given palladio, allowed: a name in small letters that no"),
        ({"canon": ["a"]}, "canon: given "),
        ({"order": "gothic"}, "order: given gothic, allowed: composite, corinthian, doric, ionic,"),
        ({"order": "pier"}, "order: given pier"),
        ({"source": "s" * 200}, ""),
        ({"source": "s" * 201}, f"source: given {'s' * 37}..., allowed: where the members are"),
        (
            {"source": ""},
            "source: given nothing, allowed: where the members are from, in up to 200",
        ),
        ({"source": "a\u202eb"}, "source: given a sign that is not seen, allowed: where"),
        ({"source": 5}, "source: given 5, allowed: where the members are from"),
        ({"entasis": "swollen"}, f"entasis: given swollen, allowed: {', '.join(ENTASIS)}"),
        ({"entasis": {"a": 1}}, "entasis: given a group, allowed"),
        ({"flutes.kind": "swan"}, "flutes: given a group, allowed: a whole count"),
        ({"flutes": 20}, "flutes: given 20, allowed: a group with count"),
        ({"flutes": {"kind": "arris"}}, "flutes, count: given nothing, allowed: this field"),
        ({"flutes.deep": 1}, "flutes, deep: given a field, allowed: count, kind"),
        ({"shaft": []}, "shaft: given a list of 0, allowed: a group with height"),
        ({"shaft.height": None}, "shaft, height: given nothing, allowed: this field"),
        ({"shaft.width": 1}, "shaft, width: given a field, allowed: height, foot, head"),
        ({"architrave": None}, "the file, architrave: given nothing, allowed: this field, which"),
        ({"architrave": []}, "architrave: given a list of 0, allowed: a list of 1 to 30 members"),
        ({"architrave": {}}, "architrave: given a group, allowed: a list of 1 to 30 members"),
        ({"architrave": [bare(height=0.4)] * 30}, ""),
        ({"architrave": [bare(height=0.4)] * 31}, "architrave: given a list of 31, allowed: a"),
        ({"shaft.foot": []}, ""),
        ({"shaft.foot": [bare()] * 31}, "shaft.foot: given a list of 31, allowed: a list of 0 to"),
        ({"shaft.head": [bare()] * 31}, "shaft.head: given a list of 31, allowed: a list of 0 to"),
        ({"shaft.foot": 3}, "shaft.foot: given 3, allowed: a list of 0 to 30 members"),
        ({"pedestal": [bare("block")]}, "pedestal: given no die, allowed: members of which one"),
        ({"pedestal": []}, "pedestal: given a list of 0, allowed: a list of 1 to 30 members"),
        ({"capital": 7}, "capital: given 7, allowed: a list of 1 to 30 members"),
        ({f"{M}": "corona"}, "cornice[1]: given corona, allowed: a group with name, kind, height"),
        ({f"{M}.colour": 1}, "cornice[1], colour: given a field, allowed: name, kind, height,"),
        ({f"{M}.name": 7}, "cornice[1].name: given 7, allowed: the member's name, in small"),
        ({f"{M}.name": "Bed"}, "cornice[1].name: given Bed, allowed: the member's name, in small"),
        ({f"{M}.kind": "swan"}, f"cornice[1].kind: given swan, allowed: {', '.join(MOULDINGS)}"),
        ({f"{M}.kind": ["ovolo"]}, "cornice[1].kind: given a list of 1, allowed: fillet"),
        ({f"{M}.square": "yes"}, "cornice[1].square: given yes, allowed: true or false"),
        ({f"{M}.square": 1}, "cornice[1].square: given 1, allowed: true or false"),
        ({f"{M}.foot": None}, "cornice[1].reach: given nothing, allowed: reach, or foot and head"),
        ({f"{M}.head": None}, "cornice[1].reach: given nothing, allowed: reach, or foot and head"),
        ({f"{M}.head": None, f"{M}.reach": 3}, ""),
        ({ROW: []}, "frieze[1].row: given a list of 0, allowed: a group with kind, width, spacing"),
        ({f"{ROW}.kind": "bell"}, "frieze[1].row.kind: given bell, allowed: dentil, triglyph,"),
        ({f"{ROW}.width": None}, "frieze[1].row, width: given nothing, allowed: this field"),
        ({f"{ROW}.depth": 1}, "frieze[1].row, depth: given a field, allowed: kind, width, spacing"),
    ],
)
def test_a_strange_word_is_refused_where_it_stands(said, changes, words):
    found = said(changes)
    assert words in found
    assert bool(words) == bool(found)
    assert not found or found.startswith("given river.yaml, ")


@pytest.mark.parametrize("row", ["dentil", "triglyph", "regula", "mutule", "modillion"])
def test_every_row_of_ornament_is_known(read, row):
    assert read({f"{ROW}.kind": row}).groups["frieze"][0].row.kind == row


def test_the_file_is_a_group(said):
    assert "the file: given a list of 0, allowed: a group with canon, order" in said(data=[])


def test_reach_stands_for_both_ends_and_one_end_may_differ(read):
    member = read({f"{M}.head": None, f"{M}.reach": 3}).groups["cornice"][0]
    assert (member.foot, member.head) == (0.5, 3.0)


def test_a_file_is_read_to_its_last_byte_allowed(tmp_path):
    path = tmp_path / "river.yaml"
    whole = json.dumps(RIVER)
    path.write_text("\ufeff" + whole + "\n#" + "x" * (MOST_BYTES - len(whole) - 5))
    assert path.stat().st_size == MOST_BYTES == 64_000
    assert own_canon(tmp_path, "river.yaml") == "river house"
    path.write_text(whole + "\n#" + "x" * MOST_BYTES)
    for name, words in (
        ("river.yaml", "given river.yaml, more than 64000 bytes, allowed: at most 64000 bytes"),
        ("none.yaml", "given none.yaml, no such file, allowed: a canon's file"),
        (".", "allowed: a canon's file"),
    ):
        with pytest.raises(ValueError, match=words):
            own_canon(tmp_path, name)
    path.write_bytes(b"\xff\xff")
    with pytest.raises(ValueError, match=r"given river.yaml, not text, allowed: YAML in UTF-8"):
        own_canon(tmp_path, "river.yaml")
    path.write_text("a: [")
    with pytest.raises(ValueError, match=r"given river.yaml, which is not YAML, allowed: a canon"):
        own_canon(tmp_path, "river.yaml")
