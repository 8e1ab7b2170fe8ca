"""A layer belongs to the firing that it truly went through first, however late it is logged."""

from datetime import timedelta
from itertools import product

import pytest
from django.utils import timezone

from studio.models import Change
from tests import make
from tiles import actions

NOW = timezone.now()


def days_ago(days):
    return NOW - timedelta(days=days)


def fired_on(tile, *days):
    """One firing of the tile on each of these days, oldest first."""
    done = []
    for n, day in enumerate(days):
        firing = make.firing(kind="refire" if n else "glaze")
        actions.load_tile(by=make.manager(), firing=firing, tile=tile)
        for state in ("firing", "cooling", "unloaded"):
            actions.move_firing(by=make.manager(), firing=firing, state=state, at=days_ago(day))
        done.append(firing)
    return done


def put_on(tile, day, **fields):
    return actions.add_layer(
        by=make.manager(), tile=tile, glaze=make.glaze(), applied_at=day and days_ago(day), **fields
    )


def precedes(layer):
    layer.refresh_from_db()
    return layer.precedes


@pytest.mark.parametrize(("day", "which"), [(31, 0), (30, 0), (29, 1), (20, 1), (19, None), (1, None)])
def test_a_layer_logged_late_belongs_to_the_next_firing_that_began(studio, day, which):
    tile = make.tile()
    firings = fired_on(tile, 30, 20)
    layer = put_on(tile, day)
    assert precedes(layer) == (None if which is None else firings[which])
    later = make.firing(kind="refire")
    actions.load_tile(by=make.manager(), firing=later, tile=tile)
    assert precedes(layer) == (later if which is None else firings[which])


@pytest.mark.parametrize("order", list(product([0, 1], repeat=3)))
def test_whenever_it_is_logged_it_comes_to_the_same(studio, order):
    """Three layers put on before, between and after two firings; each logged at once (0) or in the end (1)."""
    tile, days = make.tile(), (40, 25, 10)
    layers = {}
    for n, (day, late) in enumerate(zip(days, order, strict=True)):
        if not late:
            layers[n] = put_on(tile, day)
        if n < 2:
            fired_on(tile, (30, 20)[n])
    for n, day in enumerate(days):
        if n not in layers:
            layers[n] = put_on(tile, day)
    first, second = (row.firing for row in tile.tile_firings.order_by("firing__number"))
    assert [precedes(layers[n]) for n in range(3)] == [first, second, None]


def test_a_corrected_moment_moves_the_layer_to_its_firing(studio):
    tile = make.tile()
    first, second = fired_on(tile, 30, 20)
    layer = put_on(tile, 25)
    for day, firing in ((40, first), (10, None), (25, second)):
        actions.change_layer(by=make.manager(), layer=layer, values={"applied_at": days_ago(day)})
        assert precedes(layer) == firing
    said = Change.objects.filter(verb="changed a layer").order_by("-at").first()
    assert (said.before["precedes"], said.after["precedes"]) == (None, str(second))


def test_a_refire_melts_what_lies_on_the_fired_glaze(studio):
    tile = make.tile()
    under = put_on(tile, 40)
    [first] = fired_on(tile, 30)
    over = put_on(tile, 10, ground="fired")
    refire = make.firing(target="05", kind="refire")
    actions.load_tile(by=make.manager(), firing=refire, tile=tile)
    assert (precedes(under), precedes(over)) == (first, refire)


def test_what_is_put_on_after_the_kiln_was_lit_is_not_in_it(studio):
    """The kiln was lit two days ago and it is written down today."""
    tile, firing = make.tile(), make.firing()
    actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    before, after = put_on(tile, 3), put_on(tile, 1)
    actions.move_firing(by=make.manager(), firing=firing, state="firing", at=days_ago(2))
    assert (precedes(before), precedes(after)) == (firing, None)


def test_a_correction_that_changes_nothing_leaves_no_line(studio):
    layer = put_on(make.tile(), 3)
    actions.change_layer(
        by=make.manager(), layer=layer, values={"coats": layer.coats, "method": layer.method}
    )
    assert not Change.objects.filter(verb="changed a layer").exists()
