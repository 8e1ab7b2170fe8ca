"""Everybody locks the firing first and then its tiles by key, so that nobody waits for one who waits for them."""

from threading import Barrier, Thread

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests import make
from tiles import actions
from tiles.models import Firing, Tile

BEND = {"position": "", "cone": make.cone("6"), "bend_degrees": 90}


def loaded(tiles=4):
    """In the kiln's own order, which is not that of the keys."""
    firing = make.firing()
    for _n in range(tiles):
        tile = make.tile(layers=[{"glaze": make.glaze()}])
        actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    return firing


def writes(caught):
    """The tiles whose rows were written, in the order of writing."""
    known = {tile.pk.hex: tile.pk.hex for tile in Tile.objects.all()}
    found = []
    for query in caught.captured_queries:
        sql = query["sql"].replace("-", "")
        if sql.startswith('UPDATE "tiles_tile"'):
            found += [key for key in known if key in sql]
    return list(dict.fromkeys(found))


def test_the_tiles_of_a_firing_are_written_in_the_order_of_their_keys(studio):
    firing = loaded()
    steps = [
        lambda: actions.move_firing(by=make.manager(), firing=firing, state="firing"),
        lambda: actions.move_firing(by=make.manager(), firing=firing, state="cooling"),
        lambda: actions.set_witness_cones(by=make.manager(), firing=firing, cones=[BEND]),
        lambda: actions.move_firing(by=make.manager(), firing=firing, state="unloaded"),
        lambda: actions.step_back(by=make.manager(), firing=firing, reason="x"),
        lambda: actions.set_witness_cones(by=make.manager(), firing=firing, cones=[]),
    ]
    written = []
    for step in steps:
        with CaptureQueriesContext(
            connection,
        ) as caught:
            step()
        written.append(writes(caught))
    assert all(found == sorted(found) for found in written)
    assert [len(found) for found in written] == [0, 4, 4, 4, 4, 4]


@pytest.mark.django_db(transaction=True)
def test_cones_read_and_tiles_looked_at_in_the_same_moment_do_not_block_each_other():
    firing = loaded(6)
    for state in ("firing", "cooling", "unloaded"):
        actions.move_firing(by=make.manager(), firing=firing, state=state)
    manager, failed, ready = make.manager(), [], Barrier(3)
    tiles = list(Tile.objects.order_by("-pk"))

    def run(act):
        try:
            ready.wait(timeout=30)
            act()
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    def look():
        for tile in tiles:
            actions.record_outcome(by=manager, tile=tile, surface="satin")

    def read(degrees):
        for _n in range(3):
            actions.set_witness_cones(by=manager, firing=firing, cones=[{**BEND, "bend_degrees": degrees}])

    threads = [Thread(target=run, args=(act,)) for act in (look, lambda: read(90), lambda: read(75))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    kept = Firing.objects.get(pk=firing.pk).witness_cones.get().bend_degrees
    expected = {90: ("6", "witness_firing"), 75: (None, "witness_short")}[kept]
    assert {(t.cone and t.cone.code, t.cone_basis) for t in Tile.objects.all()} == {expected}
    assert {t.state for t in Tile.objects.all()} == {"recorded"}
