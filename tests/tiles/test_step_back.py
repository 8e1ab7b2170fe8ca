"""One step back: what came of the step goes too, and nothing else."""

from datetime import timedelta

import pytest
from django.utils import timezone

from studio.errors import Refused, VersionConflict
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles import actions

WAYS = {
    "firing": (["firing"], "loading"),
    "cooling": (["firing", "cooling"], "firing"),
    "unloaded": (["firing", "cooling", "unloaded"], "cooling"),
    "stopped": (["firing", "stopped"], "firing"),
}


def back(firing, by=None, reason="tapped by mistake", **more):
    return actions.step_back(by=by or make.manager(), firing=firing, reason=reason, **more)


def stand(tile):
    tile.refresh_from_db()
    return tile.state, tile.cone and tile.cone.code, tile.cone_basis


@pytest.mark.parametrize("state", WAYS)
def test_every_state_but_the_first_two_goes_one_back_and_on_again(studio, state):
    firing, tile = make.firing(), make.tile(layers=[{"glaze": make.glaze()}])
    actions.load_tile(by=make.manager(), firing=firing, tile=tile)
    steps, before = WAYS[state]
    stood = {"loading": stand(tile)}
    for step in steps:
        actions.move_firing(by=make.manager(), firing=firing, state=step)
        stood[step] = stand(tile)
    back(firing)
    firing.refresh_from_db()
    assert firing.state == before
    assert stand(tile) == stood[before]
    assert (firing.started_at is None) is (before == "loading")
    assert firing.unloaded_at is None
    said = Change.objects.filter(object_id=firing.pk).order_by("-at").first()
    assert (said.reason, said.before, said.after) == (
        "tapped by mistake",
        {"state": state},
        {"state": before},
    )
    actions.move_firing(by=make.manager(), firing=firing, state=state)
    assert stand(tile) == stood[state]


@pytest.mark.parametrize("state", ["planned", "loading"])
def test_before_the_kiln_is_lit_there_is_no_step_to_take_back(studio, state):
    firing = make.firing()
    if state == "loading":
        actions.move_firing(by=make.manager(), firing=firing, state=state)
    with pytest.raises(Refused, match="no step to take back"):
        back(firing)


@pytest.mark.parametrize(
    ("kind", "made"),
    [
        ("bisque", "blank"),
        ("glaze", "bisqued"),
        ("glaze", "blank"),
        ("glaze", "glazed"),
        ("overglaze", "fired"),
    ],
)
def test_each_tile_gets_back_the_state_that_it_had(studio, kind, made):
    by = make.manager()
    tile = make.tile(layers=[{"glaze": make.glaze()}] if made in ("glazed", "fired") else [])
    if made == "bisqued":
        actions.change_tile(by=by, obj=tile, values={"state": "bisqued"})
    if made == "fired":
        make.fire(make.firing(), tile)
    firing = make.firing(target="04", kind=kind)
    make.fire(firing, tile)
    assert tile.state == ("bisqued" if kind == "bisque" else "fired")
    back(firing)
    assert stand(tile)[0] == made


def test_what_another_firing_earned_stays(studio):
    first, tile = make.firing(target="6"), make.tile(layers=[{"glaze": make.glaze()}])
    make.fire(first, tile)
    refire = make.firing(target="7", kind="refire")
    make.fire(refire, tile)
    back(refire)
    back(refire)
    assert stand(tile) == ("fired", "6", "planned")


def test_a_lost_tile_stays_lost(studio):
    firing, tile = make.firing(), make.tile(layers=[{"glaze": make.glaze()}])
    make.fire(firing, tile)
    actions.change_tile(by=make.manager(), obj=tile, values={"state": "lost"})
    back(firing)
    assert stand(tile)[0] == "lost"


def test_looks_forbid_it_and_are_counted(studio):
    tile = make.fired_tile(outcome={"surface": "satin"})
    with pytest.raises(Refused, match="^1 look at its tiles is recorded") as refused:
        back(tile.tile_firings.get().firing)
    assert list(refused.value.problems) == ["state"]
    stopped, other = make.firing(), make.tile(layers=[{"glaze": make.glaze()}])
    make.fire(stopped, other, stop=True)
    actions.record_outcome(by=make.manager(), tile=other, remark="not reached")
    with pytest.raises(Refused, match="^1 look at its tiles is recorded"):
        back(stopped)


def test_a_look_after_an_earlier_firing_does_not_forbid_it(studio):
    tile = make.fired_tile(outcome={"surface": "satin"})
    refire = make.firing(kind="refire")
    make.fire(refire, tile)
    back(refire)
    assert stand(tile)[0] == "recorded"


def test_tiles_that_have_gone_on_into_another_kiln_forbid_it(studio):
    tile = make.fired_tile()
    first, later = tile.tile_firings.get().firing, make.firing(kind="refire")
    actions.load_tile(by=make.manager(), firing=later, tile=tile)
    with pytest.raises(Refused, match=f"in Firing {later.number} by now"):
        back(first)
    actions.take_out(by=make.manager(), firing=later, tile=tile)
    back(first)


def test_it_is_for_technicians_with_a_reason_who_are_not_overtaken(people):
    firing = make.firing()
    actions.move_firing(by=make.manager(), firing=firing, state="firing")
    with pytest.raises(NotAllowed):
        back(firing, by=people["member"])
    with pytest.raises(Refused) as refused:
        back(firing, by=people["technician"], reason=" ")
    assert list(refused.value.problems) == ["reason"]
    with pytest.raises(VersionConflict):
        back(firing, by=people["technician"], version=firing.version - 1)
    back(firing, by=people["technician"], version=firing.version)


def test_after_the_step_back_the_load_can_be_changed_again(studio):
    by, firing = make.manager(), make.firing()
    tile = make.tile(layers=[{"glaze": make.glaze()}])
    actions.load_tile(by=by, firing=firing, tile=tile)
    actions.move_firing(by=by, firing=firing, state="firing", at=timezone.now() - timedelta(hours=1))
    back(firing)
    actions.take_out(by=by, firing=firing, tile=tile)
    assert tile.layers.get().precedes is None


def test_a_bisqued_tile_that_was_bisqued_again_stays_bisqued(studio):
    tile = make.tile()
    make.fire(make.firing(kind="bisque", target="04"), tile)
    again = make.fire(make.firing(kind="bisque", target="04"), tile)
    back(again)
    assert stand(tile)[0] == "bisqued"


def test_tiles_written_down_as_out_of_a_bisque_go_back_with_it(studio):
    firing = make.fire(make.firing(kind="bisque", target="04"))
    (tile,) = actions.make_run(by=make.manager(), firing=firing, count=1)
    back(firing)
    assert stand(tile)[0] == "blank"
