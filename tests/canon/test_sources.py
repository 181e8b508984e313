"""The register of sources, and what may stand as a source anywhere in the project."""

import re
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from massing.canon import balustrade_table, plates, spacings
from massing.canon.sources import MARKS, cited, source, sources
from massing.practice.rules import codes, rules

ROOT = Path(__file__).parents[2]
KINDS = (".py", ".yaml", ".toml", ".md", ".js", ".html", ".css", ".typ", ".sizes", ".json")
# What other programs need to find: a schema's dialect, a tag of YAML, names of XML spaces, the
# licence of what is carried along, addresses that never leave the machine, and the names that are
# kept for examples (RFC 2606), which a manifest's contact and hostile requests in tests have.
NEEDED = re.compile(
    r"https://json-schema\.org/|tag:yaml\.org|http://www\.w3\.org/|"
    r"https?://(localhost|127\.0\.0\.1|\{)|"
    r"(https?://)?[\w.\[\]+\\-]*\bexample\\?\.org\b|(https?://)?\bevil\.example\b"
)
A_KEY = re.compile(r"^website = |`website`|manifest\[\"website\"\]")  # of an extension's manifest
ADDRESS = re.compile(
    r"https?://\S+|\bwww\.\S+|\b[a-z0-9-]+\.(?:com|org|net|edu|gov|info|tv|us|co\.uk)\b(?!\()",
    re.IGNORECASE,
)
OWN_NAMES = re.compile(r"\b(?:self|picture|image|field|img)\.info\b")
NAMELESS = re.compile(
    r"\b(?:hand-?books?|trade pages?|(?-i:an encyclop)\w+|a (?:country-house )?book on|"
    r"published list|web ?sites?|magazines?|journals?|catalogues?|brochures?|blogs?|wikipedia|"
    r"forum|vendors?)\b",
    re.IGNORECASE,
)


def written():
    """Every text of the project that we wrote, but this file and what is carried along whole."""
    for folder in ("massing", "addon", "tests", "scenes", "benchmarks", "examples"):
        for path in sorted((ROOT / folder).rglob("*")):
            carried = "three" in path.parts or path.name.endswith(".min.js")
            if path.suffix in KINDS and path != Path(__file__) and not carried:
                yield path
    yield from (ROOT / name for name in ("README.md", "DEVELOPERS.md"))


TEXTS = {p.relative_to(ROOT).as_posix(): p.read_text(encoding="utf-8") for p in written()}


def faults(pattern, spare=re.compile(r"(?!)")):
    return [
        f"{name}:{number}: {found[0]}"
        for name, text in TEXTS.items()
        for number, line in enumerate(text.splitlines(), 1)
        for found in pattern.finditer(spare.sub("", OWN_NAMES.sub("", line)))
    ]


def test_no_address_stands_for_a_source():
    assert faults(ADDRESS, NEEDED) == []


def test_no_work_without_a_name_stands_for_a_source():
    assert faults(NAMELESS, A_KEY) == []


def test_the_patterns_find_what_they_are_for():
    for line in ("# tiles.com: read", "see https://a.b/c", "at www.x.y", "(98905.com, read)"):
        assert ADDRESS.search(line), line
    for line in ("# the handbooks say", "(trade pages: read)", "an encyclopaedia's article"):
        assert NAMELESS.search(line), line


def test_every_source_is_whole_and_marked():
    for key, each in sources().items():
        assert each.key == key
        assert each.mark in MARKS
        if key not in ("practice", "derived"):
            assert each.work
            assert each.edition
            assert each.place
            assert str(each).endswith(f"({each.mark})")


def test_an_unknown_key_is_refused():
    with pytest.raises(ValueError, match=r"sources\.yaml"):
        source("ware p. 999")
    with pytest.raises(ValueError, match="register"):
        cited(["practice", "hearsay"])


def test_every_table_names_known_sources():
    """Reading a table looks its keys up; that each is read is what this asks."""
    limits = [limit for code in codes().values() for limit in code.limits.values()]
    for row in (*rules().values(), *limits, *spacings().values(), *plates().values()):
        assert source(row.source)
    for name in ("vase", "double", "column"):
        assert source(balustrade_table(name).source)


def test_every_size_of_a_covering_has_its_source_beside_it():
    text = (ROOT / "massing/practice/coverings.yaml").read_text(encoding="utf-8")
    sizes = [line for line in text.splitlines() if re.match(r"  \w+: *\[?\d", line)]
    assert len(sizes) >= 60
    for line in sizes:
        assert "# " in line, line
        assert source(line.partition("# ")[2].partition(":")[0].strip()), line


def test_vitruvius_table_names_known_sources():
    text = (ROOT / "massing/canon/vitruvius.yaml").read_text(encoding="utf-8")
    table = YAML(typ="safe").load(text)
    rows = [row for row in table.values() if isinstance(row, dict)]
    rows += [each for row in rows for each in row.values() if isinstance(each, dict)]
    keys = [key for row in rows for key in row.get("source", ())]
    keys += [key for row in rows for key in row.get("also", {}).values()]
    assert len(keys) >= 10
    assert all(source(key) for key in keys)
