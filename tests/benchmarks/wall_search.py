"""How long the wall takes at 5 000 tiles. Not collected with the tests, because a time is no verdict:

    pytest -q -s -n0 tests/benchmarks/wall_search.py

Rows are written in bulk, without history; what is measured are the reads, each several times, and the middle one is
printed with its number of queries.
"""

import random
from datetime import date, timedelta
from statistics import median
from time import perf_counter

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.calc.cones import Cone
from inventory.models import Opacity, Surface
from tests import make
from tiles.models import (
    Combination,
    CombinationPart,
    Layer,
    Outcome,
    OutcomeFault,
    Tile,
    TileFiring,
    TileZone,
)

TILES, TIMES = 5000, 5
SEARCHES = {
    "the whole wall": "/wall/",
    "satin cone 6, in words": "/wall/?q=satin+cone+6",
    "satin at cone 6": "/wall/?surface=satin&cone_min=6&cone_max=6",
    "no crazing, clear of flags": "/wall/?without_fault=crazing&standing=clear",
    "a word in names": "/wall/?q=glaze+1",
    "hung by surface": "/wall/?hang=surface",
    "hung by glaze": "/wall/?hang=glaze",
    "hung by date": "/wall/?hang=date",
    "counts of the whole wall": "/wall/counts/",
    "counts of satin at cone 6": "/wall/counts/?surface=satin&cone_min=6&cone_max=6",
    "the table of satin": "/wall.csv?surface=satin",
    "API, 200 rows": "/api/v1/tiles/?page_size=200",
}


@pytest.fixture
def large_wall(db):
    """Two glazes of twenty on each tile, fired in one of a hundred firings, most of them looked at."""
    chance = random.Random(1)  # the same wall each time
    make.studio()
    by = make.person()
    bodies = [make.body() for _ in range(4)]
    fills = [make.fill(make.glaze()) for _ in range(20)]
    firings = [make.firing(make.kiln()) for _ in range(100)]
    type(firings[0]).objects.update(state="unloaded")
    cones = [Cone.parse(text) for text in ("06", "5", "6", "10")]
    tiles = [
        Tile(
            number=f"B{n}",
            body=chance.choice(bodies),
            maker=by,
            made_on=date(2024, 1, 1) + timedelta(days=n % 700),
            state="recorded",
            cone=chance.choice(cones),
            cone_basis="planned",
        )
        for n in range(TILES)
    ]
    Tile.objects.bulk_create(tiles, batch_size=500)
    pairs = {}
    for below in fills:
        for above in fills:
            key = f"{below.glaze_id}-{above.glaze_id}"
            pairs[below.pk, above.pk] = Combination(key=key)
    Combination.objects.bulk_create(pairs.values())
    by_pk = {fill.pk: fill for fill in fills}
    CombinationPart.objects.bulk_create(
        CombinationPart(combination=pair, position=place, glaze=by_pk[pk].glaze)
        for keys, pair in pairs.items()
        for place, pk in enumerate(keys, start=1)
    )
    layers, zones, rows, looks, faults = [], [], [], [], []
    for tile in tiles:
        chosen = chance.choice(fills), chance.choice(fills)
        layers += [
            Layer(tile=tile, position=n, glaze=fill.glaze, fill=fill, by=by, use_then="use")
            for n, fill in enumerate(chosen, start=1)
        ]
        zones.append(TileZone(tile=tile, kind="overlap", combination=pairs[chosen[0].pk, chosen[1].pk]))
        firing = chance.choice(firings)
        rows.append(TileFiring(tile=tile, firing=firing, cone=tile.cone))
        for _look in range(chance.randint(0, 2)):
            look = Outcome(
                tile=tile,
                firing=firing,
                by=by,
                surface=chance.choice(Surface.values),
                opacity=chance.choice(Opacity.values),
                movement_mm=chance.choice([None, 0, 2, 8]),
                verdict=chance.choice(Outcome.Verdict.values),
            )
            looks.append(look)
            if chance.random() < 0.3:
                faults.append(OutcomeFault(outcome=look, kind=chance.choice(OutcomeFault.Kind.values)))
    for model, made in (
        (Layer, layers),
        (TileZone, zones),
        (TileFiring, rows),
        (Outcome, looks),
        (OutcomeFault, faults),
    ):
        model.objects.bulk_create(made, batch_size=500)
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("ANALYZE")
    return by


def test_wall_search(large_wall, client, capsys):
    client.force_login(large_wall)
    with capsys.disabled():
        print(f"\n{TILES} tiles on {connection.vendor}")  # noqa: T201
        for name, address in SEARCHES.items():
            answered(client, address)
            times = []
            for _ in range(TIMES):
                began = perf_counter()
                answered(client, address)
                times.append(perf_counter() - began)
            with CaptureQueriesContext(connection) as caught:
                answered(client, address)
            print(f"{name:30} {median(times) * 1000:7.0f} ms {len(caught):4} queries")  # noqa: T201


def answered(client, address):
    response = client.get(address)
    assert response.status_code == 200
    if response.streaming:
        b"".join(response.streaming_content)
