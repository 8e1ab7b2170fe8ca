"""What is said of a tile before it is glazed or fired. The rules themselves: tests/tiles/test_findings.py."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.utils import timezone

from inventory import actions as shelf
from studio.errors import Refused
from studio.roles import NotAllowed
from tests import make
from tiles.actions import load_tile
from tiles.planning import drafted, findings_for, findings_of, stored
from tiles.said import added_by


def with_draft(tile, draft):
    (layer,) = drafted([draft])
    on_top = replace(layer, position=tile.layers.count() + 1)
    return findings_of(tile, None, [*stored(tile, None), on_top])


def codes(found):
    return [(one.code, one.level) for one in found]


def test_body_and_kiln_come_before_any_glaze(studio):
    tile = make.tile(body=make.body(low="04", high="02"), layers=[{"glaze": make.glaze(low="06", high="04")}])
    found = findings_for(tile, firing=make.firing(target="6"))
    assert codes(found) == [("body_outside_cone", "stop"), ("glaze_outside_cone", "warn")]
    assert "1222\u00a0°C" in found[0].sentence
    assert found[0].source == "the studio's own records"


def test_a_draft_counts_with_what_its_bucket_is_now(member):
    fill, tile = make.fill(), make.tile(by=member)
    assert with_draft(tile, {"fill": fill}) == []
    shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    found = with_draft(tile, {"fill": fill})
    assert codes(found) == [("fill_do_not_use", "stop")]
    assert "Something else has got into it" in found[0].sentence
    assert found[0].field == "layers.1.fill"


def test_what_more_coats_add_is_said_of_the_places_that_they_will_have(member):
    flagged, tile = make.fill(), make.tile(by=member, layers=[{"glaze": make.glaze()}])
    shelf.raise_flag(by=member, fill=flagged, kind="contaminated")
    found = added_by(tile, [{"glaze": make.glaze()}, {"fill": flagged}])
    assert [one.field for one in found] == ["layers.3.fill"]


def test_a_stored_layer_counts_with_that_day_and_with_what_came_out_since(member):
    fill = make.fill()
    tile = make.tile(by=member, layers=[{"fill": fill}])
    put_on = tile.layers.get().applied_at
    shelf.raise_flag(by=member, fill=fill, kind="dried_out")
    shelf.raise_flag(by=member, fill=fill, kind="wrong_label", since=put_on + timedelta(seconds=1))
    assert findings_for(tile) == []
    shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=put_on - timedelta(days=1))
    assert codes(findings_for(tile)) == [("fill_do_not_use", "stop")]


def test_a_mistaken_flag_touches_nothing(member, technician):
    fill = make.fill()
    tile = make.tile(by=member, layers=[{"fill": fill}])
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    assert codes(findings_for(tile)) == [("fill_do_not_use", "stop")]
    later = make.tile(by=member, layers=[{"fill": fill}])  # put on while it was flagged
    assert codes(findings_for(later)) == [("fill_do_not_use", "stop")]
    shelf.clear_flag(by=technician, flag=flag, outcome="mistaken", note="another bucket")
    assert findings_for(tile) == []
    assert findings_for(later) == []


def test_a_flag_put_right_stays_with_what_was_put_on_before(member, technician):
    fill = make.fill(make.glaze(sg_low="1.40", sg_high="1.50"), sg="1.55")
    flag = shelf.raise_flag(by=member, fill=fill, kind="dried_out")
    tile = make.tile(by=member, layers=[{"fill": fill}])
    shelf.clear_flag(by=technician, flag=flag, outcome="put_right")
    (found,) = findings_for(tile)
    assert found.code == "fill_ask_first"
    assert "dried out" in found.sentence
    assert "specific gravity" in found.sentence


def test_an_underglaze_is_uncovered_until_a_glaze_lies_on_it(member):
    under, glaze = make.glaze(kind="underglaze", low=None, high=None), make.glaze()
    tile = make.tile(by=member, layers=[{"glaze": under}])
    assert codes(findings_for(tile)) == [("underglaze_uncovered", "warn")]
    assert with_draft(tile, {"glaze": glaze}) == []
    assert codes(with_draft(tile, {"glaze": glaze, "area": "upper"})) == [("underglaze_uncovered", "warn")]


def test_a_coat_after_more_than_a_day_is_noted(member):
    now = timezone.now()
    tile = make.tile(by=member, layers=[{"glaze": make.glaze(), "applied_at": now - timedelta(hours=30)}])
    assert codes(with_draft(tile, {"glaze": make.glaze(), "applied_at": now})) == [
        ("coat_after_a_day", "note")
    ]
    assert with_draft(tile, {"glaze": make.glaze(), "applied_at": None}) == []


def test_only_layers_that_melt_together_are_weighed(member):
    low = make.glaze(low="06", high="04")
    tile = make.fired_tile(by=member)
    assert with_draft(tile, {"glaze": low}) == []
    waiting = make.tile(by=member, layers=[{"glaze": make.glaze()}])
    load_tile(by=member, firing=make.firing(), tile=waiting)
    assert codes(with_draft(waiting, {"glaze": low})) == [("cone_ranges_apart", "warn")]


def test_a_stop_is_loaded_only_by_a_technician_with_a_reason(member, technician):
    tile, firing = make.tile(by=member, body=make.body(high="02", low="04")), make.firing(target="6")
    with pytest.raises(Refused, match="clay body is made for") as refused:
        load_tile(by=technician, firing=firing, tile=tile)
    assert list(refused.value.problems) == ["tile"]
    with pytest.raises(NotAllowed):
        load_tile(by=member, firing=firing, tile=tile, override_reason="to see it melt")
    assert not tile.tile_firings.exists()
    load_tile(by=technician, firing=firing, tile=tile, override_reason="in a dish, to see it melt")
    assert tile.tile_firings.get().override_reason == "in a dish, to see it melt"
