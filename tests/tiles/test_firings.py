"""The rules of a firing: its states one after another, what may go in, and the cone that each tile saw."""

from datetime import timedelta
from itertools import pairwise, product
from threading import Thread

import pytest
from django.db import connection

from studio.errors import Refused, VersionConflict
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles import actions
from tiles.models import Firing

STATES = Firing.State.values
# DESIGN: planned, loading, firing, cooling, unloaded, stopped early. A load may be unpacked again before it is lit.
ALLOWED = {
    ("planned", "loading"),
    ("planned", "firing"),
    ("loading", "planned"),
    ("loading", "firing"),
    ("firing", "cooling"),
    ("firing", "stopped"),
    ("cooling", "unloaded"),
}
WAY_TO = {
    "planned": [],
    "loading": ["loading"],
    "firing": ["firing"],
    "cooling": ["firing", "cooling"],
    "unloaded": ["firing", "cooling", "unloaded"],
    "stopped": ["firing", "stopped"],
}


def brought_to(state, **fields):
    firing = make.firing(**fields)
    for step in WAY_TO[state]:
        actions.move_firing(by=make.manager(), firing=firing, state=step)
    return firing


@pytest.mark.parametrize(("now", "then"), list(product(STATES, STATES)))
def test_a_firing_goes_from_state_to_state(studio, now, then):
    firing = brought_to(now)
    if (now, then) in ALLOWED:
        actions.move_firing(by=make.manager(), firing=firing, state=then)
        expected = then
    else:
        with pytest.raises(Refused) as refused:
            actions.move_firing(by=make.manager(), firing=firing, state=then)
        assert list(refused.value.problems) == ["state"]
        expected = now
    firing.refresh_from_db()
    assert firing.state == expected


def test_a_state_that_does_not_exist_is_refused(studio):
    with pytest.raises(Refused) as refused:
        actions.move_firing(by=make.manager(), firing=make.firing(), state="melted")
    assert "melted" in str(refused.value)


@pytest.mark.parametrize("state", STATES)
def test_only_a_firing_that_is_not_lit_takes_tiles(studio, state):
    firing, tile = brought_to(state), make.tile()
    if state in ("planned", "loading"):
        actions.load_tile(by=make.manager(), firing=firing, tile=tile)
        actions.take_out(by=make.manager(), firing=firing, tile=tile)
        assert not firing.tile_firings.exists()
        return
    with pytest.raises(Refused) as refused:
        actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    assert "takes no more tiles" in str(refused.value)
    with pytest.raises(Refused):
        actions.take_out(by=make.manager(), firing=firing, tile=tile)


@pytest.mark.parametrize(
    ("kind", "state", "before", "after"),
    [
        ("bisque", "unloaded", "blank", "bisqued"),
        ("bisque", "stopped", "blank", "blank"),
        ("bisque", "unloaded", "glazed", "glazed"),
        ("glaze", "unloaded", "glazed", "fired"),
        ("refire", "unloaded", "glazed", "fired"),
        ("overglaze", "unloaded", "glazed", "fired"),
        ("glaze", "stopped", "glazed", "glazed"),
    ],
)
def test_what_a_firing_makes_of_its_tiles(studio, kind, state, before, after):
    tile = make.tile(layers=[{"glaze": make.glaze()}] if before == "glazed" else [])
    firing = make.firing(target="04", kind=kind)
    actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    for step in WAY_TO[state]:
        actions.move_firing(by=make.manager(), firing=firing, state=step)
    tile.refresh_from_db()
    assert tile.state == after


def test_a_body_outside_the_cone_stops_the_tile_and_says_why(people):
    firing = make.firing(make.kiln(highest="12"), target="10")
    tile = make.tile(by=people["member"], body=make.body("Sluice Red", low="06", high="2"))
    with pytest.raises(Refused) as refused:
        actions.load_tile(by=people["member"], firing=firing, tile=tile)
    [sentence] = refused.value.problems["tile"]
    # 1285, 998 and 1142 °C: fixtures/cones.csv.
    assert "cone 10 (1285\u00a0°C)" in sentence
    assert "cone 06 (998\u00a0°C) to cone 2 (1142\u00a0°C)" in sentence
    assert not firing.tile_firings.exists()


def test_a_technician_may_put_it_in_all_the_same_with_a_reason(people):
    firing = make.firing(make.kiln(highest="12"), target="10")
    tile = make.tile(by=people["member"], body=make.body(low="06", high="2"))
    with pytest.raises(NotAllowed):
        actions.load_tile(by=people["member"], firing=firing, tile=tile, override_reason="it is mine")
    with pytest.raises(Refused):
        actions.load_tile(by=people["technician"], firing=firing, tile=tile, override_reason="  ")
    loaded = actions.load_tile(
        by=people["technician"], firing=firing, tile=tile, override_reason="a melting trial, in a dish"
    )
    assert loaded.override_reason == "a melting trial, in a dish"
    written = Change.objects.filter(object_id__in=[tile.pk, firing.pk], reason="a melting trial, in a dish")
    assert written.count() == 2


def test_a_kiln_that_does_not_get_there_stops_the_plan(studio):
    with pytest.raises(Refused) as refused:
        make.firing(make.kiln(highest="6"), target="10")
    assert "no higher than cone 6" in refused.value.problems["target_cone"][0]


def test_a_cone_changed_after_loading_stops_what_is_in_it(people):
    body = make.body("Sluice Earthenware", low="06", high="02")
    firing, tile = make.firing(target="04"), make.tile("9", body=body)
    actions.load_tile(by=people["member"], firing=firing, tile=tile)
    six = {"target_cone": make.cone("6")}
    with pytest.raises(Refused, match="clay body of Tile 9") as refused:
        actions.change_firing(by=people["technician"], obj=firing, values=six)
    assert list(refused.value.problems) == ["target_cone"]
    firing.refresh_from_db()
    assert firing.target_cone == make.cone("04")
    why = "in a dish, to see it melt"
    actions.load_tile(by=people["technician"], firing=firing, tile=tile)
    actions.take_out(by=people["member"], firing=firing, tile=tile)
    actions.change_firing(by=people["technician"], obj=firing, values=six)
    actions.load_tile(by=people["technician"], firing=firing, tile=tile, override_reason=why)
    actions.change_firing(by=people["technician"], obj=firing, values={"target_cone": make.cone("5")})


def test_a_firing_does_not_end_before_it_begins(studio):
    firing = brought_to("firing")
    with pytest.raises(Refused, match="before it was started") as refused:
        actions.move_firing(
            by=make.manager(), firing=firing, state="stopped", at=firing.started_at - timedelta(minutes=1)
        )
    assert list(refused.value.problems) == ["at"]


def test_a_private_tile_has_no_number_in_the_history_of_its_firing(people, client):
    firing, tile = make.firing(), make.tile("77417", by=people["other"], visibility="mine")
    actions.load_tile(by=people["other"], firing=firing, tile=tile)
    actions.take_out(by=people["other"], firing=firing, tile=tile)
    client.force_login(people["member"])
    for address in (
        f"/history/tiles.firing/{firing.pk}/",
        f"/api/v1/changes/?kind=tiles.firing&object={firing.pk}",
    ):
        said = client.get(address).content.decode()
        assert "a private tile" in said
        assert "77417" not in said


def test_a_tile_is_in_one_firing_at_a_time(people):
    first, second, tile = make.firing(), make.firing(), make.tile(by=people["member"])
    actions.load_tile(by=people["member"], firing=first, tile=tile)
    with pytest.raises(Refused) as refused:
        actions.load_tile(by=people["member"], firing=second, tile=tile)
    assert f"Firing {first.number}" in refused.value.problems["tile"][0]
    actions.take_out(by=people["member"], firing=first, tile=tile)
    actions.load_tile(by=people["member"], firing=second, tile=tile)


@pytest.mark.parametrize("state", ["lost", "broken"])
def test_what_is_gone_is_not_loaded(people, state):
    tile = make.tile(by=people["member"])
    actions.change_tile(by=people["member"], obj=tile, values={"state": state})
    with pytest.raises(Refused) as refused:
        actions.load_tile(by=people["member"], firing=make.firing(), tile=tile)
    assert state in refused.value.problems["tile"][0]


def test_a_position_is_one_of_the_kiln(people):
    firing = make.firing(make.kiln(positions=["upper shelf", "floor"]))
    tile = make.tile(by=people["member"])
    with pytest.raises(Refused) as refused:
        actions.load_tile(by=people["member"], firing=firing, tile=tile, position="attic")
    assert "upper shelf, floor" in refused.value.problems["position"][0]
    assert (
        actions.load_tile(by=people["member"], firing=firing, tile=tile, position="floor").position == "floor"
    )


def test_loading_again_moves_the_tile(people):
    firing, tile = make.firing(), make.tile(by=people["member"])
    for position in ("top", "bottom"):
        actions.load_tile(by=people["member"], firing=firing, tile=tile, position=position)
    assert [row.position for row in firing.tile_firings.all()] == ["bottom"]


def test_the_layers_put_on_since_the_last_firing_belong_to_the_next(people):
    by, firing, later = make.manager(), make.firing(), make.firing(target="05", kind="refire")
    tile = make.tile(by=by, layers=[{"glaze": make.glaze()}])
    make.fire(firing, tile)
    actions.add_layer(by=by, tile=tile, glaze=make.glaze(), ground="fired")
    actions.load_tile(by=by, firing=later, tile=tile)
    assert [layer.precedes for layer in tile.layers.all()] == [firing, later]
    actions.take_out(by=by, firing=later, tile=tile)
    assert [layer.precedes for layer in tile.layers.all()] == [firing, None]


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (
            lambda by, f, t: actions.plan_firing(by=by, kiln=f.kiln, target_cone=f.target_cone),
            "firing.change",
        ),
        (lambda by, f, t: actions.change_firing(by=by, obj=f, values={"remark": "x"}), "firing.change"),
        (lambda by, f, t: actions.move_firing(by=by, firing=f, state="loading"), "firing.change"),
        (lambda by, f, t: actions.set_witness_cones(by=by, firing=f, cones=[]), "firing.change"),
    ],
)
def test_a_member_loads_but_does_not_run_the_kiln(people, act, words):
    firing, tile = make.firing(), make.tile()
    with pytest.raises(NotAllowed):
        act(people["member"], firing, tile)
    act(people["technician"], firing, tile)
    actions.load_tile(by=people["member"], firing=firing, tile=tile)


def test_who_was_overtaken_is_told(people):
    firing = make.firing()
    stale = firing.version
    actions.change_firing(by=people["technician"], obj=firing, values={"remark": "first"}, version=stale)
    for act in (
        lambda: actions.change_firing(
            by=people["technician"], obj=firing, values={"remark": "x"}, version=stale
        ),
        lambda: actions.move_firing(by=people["technician"], firing=firing, state="firing", version=stale),
        lambda: actions.set_witness_cones(by=people["technician"], firing=firing, cones=[], version=stale),
    ):
        with pytest.raises(VersionConflict):
            act()
    firing.refresh_from_db()
    assert (firing.remark, firing.state) == ("first", "planned")


def test_numbers_go_up_by_one_and_each_step_leaves_its_line_in_the_history(studio):
    numbers = [make.firing().number for _ in range(4)]
    assert all(later == earlier + 1 for earlier, later in pairwise(numbers))
    firing = brought_to("unloaded")
    steps = Change.objects.filter(object_id=firing.pk, after__has_key="state").order_by("at")
    assert [c.after["state"] for c in steps] == ["firing", "cooling", "unloaded"]


@pytest.mark.django_db(transaction=True)
def test_who_plans_at_the_same_moment_gets_the_next_number():
    kiln, manager, failed = make.kiln(), make.manager(), []

    def plan():
        try:
            actions.plan_firing(by=manager, kiln=kiln, target_cone=make.cone("6"))
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [Thread(target=plan) for _n in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert sorted(Firing.objects.values_list("number", flat=True)) == [1, 2, 3, 4, 5]
