"""Whatever is done to layers, they stay numbered from the clay outwards, and zones and combinations follow them."""

from datetime import timedelta

import pytest
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from inventory import actions as shelf
from inventory.models import Glaze
from studio.errors import Refused, VersionConflict
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles.actions import add_layer, change_layer, load_tile, move_firing, remove_layer, set_layers
from tiles.calc.zones import AREAS, REGIONS, REGIONS_OF_AREA, LayerArea, zones
from tiles.models import Combination, Layer

WAX = 3  # of the four glazes of the property, the one that burns away
one_layer = st.tuples(st.integers(0, 3), st.sampled_from(AREAS), st.integers(1, 12))
step = st.one_of(
    st.tuples(st.just("add"), one_layer),
    st.tuples(st.just("remove"), st.integers(0, 20)),
    st.tuples(st.just("change"), st.tuples(st.integers(0, 20), one_layer)),
    st.tuples(st.just("set"), st.lists(one_layer, max_size=5)),
)


def by_brute_force(layers):
    """{regions: glazes from the clay outwards}, region by region, from the table of areas alone."""
    found = {}
    for region in REGIONS:
        under = tuple(
            la.position
            for la in layers
            if la.glaze.kind != Glaze.Kind.WAX and region in REGIONS_OF_AREA[la.area]
        )
        if under:
            found.setdefault(under, []).append(region)
    glaze_at = {la.position: la.glaze_id for la in layers}
    return {tuple(regions): [glaze_at[p] for p in under] for under, regions in found.items()}


class LayersKeepTheirOrder(TestCase):
    """hypothesis' own TestCase rolls the database back between examples."""

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(steps=st.lists(step, max_size=8))
    def test_positions_zones_and_combinations(self, steps):
        make.studio()
        glazes = [make.glaze() for _i in range(3)] + [make.glaze(kind="wax")]
        tile, by, model = make.tile(), make.manager(), []
        fields = lambda drawn: {"glaze": glazes[drawn[0]], "area": drawn[1], "coats": drawn[2]}  # noqa: E731
        for what, drawn in steps:
            if what == "add":
                add_layer(by=by, tile=tile, **fields(drawn))
                model.append(drawn)
            elif what == "set":
                set_layers(by=by, tile=tile, layers=[fields(one) for one in drawn])
                model = list(drawn)
            elif model:
                at = (drawn if what == "remove" else drawn[0]) % len(model)
                layer = tile.layers.get(position=at + 1)
                if what == "remove":
                    remove_layer(by=by, layer=layer)
                    model.pop(at)
                else:
                    change_layer(by=by, layer=layer, values=fields(drawn[1]))
                    model[at] = drawn[1]

        stored = list(Layer.objects.filter(tile=tile).select_related("glaze").order_by("position"))
        assert [la.position for la in stored] == list(range(1, len(model) + 1))
        assert [(la.glaze, la.area, la.coats) for la in stored] == [(glazes[g], a, c) for g, a, c in model]

        areas = [LayerArea(la.glaze_id.hex, la.area, la.glaze.kind == "wax") for la in stored]
        kept = [(z.kind, tuple(z.regions), tuple(z.layer_positions)) for z in tile.zones.order_by("id")]
        assert kept == [(z.kind, z.regions, z.layer_positions) for z in zones(areas)]

        combinations = {
            tuple(z.regions): [p.glaze_id for p in z.combination.parts.order_by("position")]
            for z in tile.zones.all()
        }
        assert combinations == by_brute_force(stored)
        for combination in Combination.objects.all():
            parts = [p.glaze_id.hex for p in combination.parts.order_by("position")]
            assert combination.key == ">".join(parts)
        tile.refresh_from_db()
        assert tile.state in ({"glazed"} if model else {"blank", "bisqued"})


def test_a_layer_keeps_the_standing_that_its_bucket_had(member, manager):
    fill = make.fill(make.glaze(sg_low="1.40", sg_high="1.50"), sg="1.55")
    tile = make.tile(by=member)
    layer = add_layer(by=member, tile=tile, fill=fill)
    assert (str(layer.sg_then), layer.use_then, layer.reasons_then) == ("1.550", "ask", ["sg_high"])
    shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=timezone.now() + timedelta(seconds=1))
    # Sent again unchanged, as a form does.
    change_layer(by=member, layer=layer, values={"fill": fill, "glaze": fill.glaze, "coats": 2})
    layer.refresh_from_db()
    assert (layer.coats, layer.use_then) == (2, "ask")


def test_a_layer_takes_its_glaze_from_the_bucket_and_never_contradicts_it(member):
    fill, other = make.fill(), make.glaze()
    tile = make.tile(by=member)
    assert add_layer(by=member, tile=tile, fill=fill).glaze == fill.glaze
    with pytest.raises(Refused) as refused:
        add_layer(by=member, tile=tile, fill=fill, glaze=other)
    assert list(refused.value.problems) == ["fill"]
    with pytest.raises(Refused) as refused:
        add_layer(by=member, tile=tile)
    assert list(refused.value.problems) == ["glaze"]


@pytest.mark.parametrize("days", [-40, 2], ids=["before the fill", "in the future"])
def test_a_layer_cannot_come_out_of_a_bucket_at_another_time(member, days):
    tile, when = make.tile(by=member), timezone.now() + timedelta(days=days)
    fill = make.fill(days_ago=30)
    with pytest.raises(Refused) as refused:
        add_layer(by=member, tile=tile, fill=fill, applied_at=when)
    assert list(refused.value.problems) == ["applied_at"]
    layer = add_layer(by=member, tile=tile, fill=fill)
    with pytest.raises(Refused) as refused:
        change_layer(by=member, layer=layer, values={"applied_at": when})
    assert list(refused.value.problems) == ["applied_at"]


def test_a_melted_layer_stays_and_a_later_one_may_go(member, manager):
    tile = make.fired_tile(by=member)
    melted = tile.layers.get()
    with pytest.raises(Refused, match="has been fired"):
        remove_layer(by=member, layer=melted)
    later = add_layer(by=member, tile=tile, glaze=make.glaze(), ground="fired")
    remove_layer(by=member, layer=later)
    assert list(tile.layers.all()) == [melted]


def test_a_layer_cannot_come_out_of_a_bucket_that_was_emptied_before(member, manager):
    fill, tile = make.fill(), make.tile(by=member)
    emptied = timezone.now() - timedelta(days=3)
    shelf.end_fill(by=manager, fill=fill, why="used up", ended_at=emptied)
    with pytest.raises(Refused, match="had left the bucket") as refused:
        add_layer(by=member, tile=tile, fill=fill)
    assert list(refused.value.problems) == ["applied_at"]
    assert add_layer(by=member, tile=tile, fill=fill, applied_at=emptied).fill == fill


@pytest.mark.parametrize("state", ["firing", "stopped"])
def test_layers_that_a_kiln_has_seen_are_not_replaced(member, manager, state):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze()}])
    firing = make.firing()
    load_tile(by=member, firing=firing, tile=tile)
    set_layers(by=member, tile=tile, layers=[{"glaze": make.glaze()}])
    for step in ["firing"] + [state] * (state != "firing"):
        move_firing(by=manager, firing=firing, state=step)
    with pytest.raises(Refused, match="has been fired"):
        set_layers(by=member, tile=tile, layers=[])
    assert tile.layers.get().precedes == firing


def test_layers_know_the_firing_that_melts_them(member, manager):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze()}])
    first = make.fire(make.firing(), tile)
    add_layer(by=member, tile=tile, glaze=make.glaze(), ground="fired")
    second = make.firing(kind="refire")
    load_tile(by=member, firing=second, tile=tile)
    assert [layer.precedes for layer in tile.layers.order_by("position")] == [first, second]
    move_firing(by=manager, firing=second, state="firing")


def test_who_may_and_what_is_written_down(member, people):
    tile = make.tile(by=member)
    with pytest.raises(NotAllowed):
        add_layer(by=people["other"], tile=tile, glaze=make.glaze())
    layer = add_layer(by=people["technician"], tile=tile, glaze=make.glaze())
    remove_layer(by=member, layer=layer, reason="never dipped")
    verbs = Change.objects.filter(object_id=tile.pk).order_by("at").values_list("verb", "reason")
    assert list(verbs)[-2:] == [("added a layer", ""), ("took away a layer", "never dipped")]


def test_a_writer_with_an_old_version_changes_nothing(member):
    tile = make.tile(by=member)
    old = tile.version
    add_layer(by=member, tile=tile, glaze=make.glaze(), version=old)
    with pytest.raises(VersionConflict):
        add_layer(by=member, tile=tile, glaze=make.glaze(), version=old)
    assert tile.layers.count() == 1
