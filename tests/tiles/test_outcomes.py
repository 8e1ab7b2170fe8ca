"""Looks at a fired tile: added, never overwritten, and about a part that the tile has."""

from datetime import timedelta

import pytest
from django.utils import timezone

from studio.errors import Refused
from studio.models import Change
from tests import make
from tiles.actions import change_tile, load_tile, possible_states, record_outcome
from tiles.cards import card
from tiles.models import Outcome, Tile


@pytest.fixture
def two_layers(member):
    """Dipped from both ends: two parts alone and one overlap."""
    layers = [{"glaze": make.glaze("Weir Ash"), "area": "upper"}, {"glaze": make.glaze(), "area": "lower"}]
    return make.fired_tile(by=member, layers=layers)


def test_not_before_it_was_fired(member):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze()}])
    with pytest.raises(Refused, match="not been fired yet"):
        record_outcome(by=member, tile=tile, surface="satin")
    assert not Outcome.objects.exists()


def test_the_first_look_makes_it_recorded_and_later_ones_are_added(member, people):
    tile = make.fired_tile(by=member)
    first = record_outcome(
        by=member, tile=tile, surface="glossy", looked_on=timezone.localdate() - timedelta(40)
    )
    again = record_outcome(by=people["other"], tile=tile, faults=[{"kind": "crazing", "where": "rim"}])
    tile.refresh_from_db()
    assert tile.state == "recorded"
    assert list(tile.outcomes.all()) == [again, first]
    assert (again.by, first.firing) == (people["other"], tile.tile_firings.get().firing)
    assert Change.objects.filter(object_id=tile.pk, verb="recorded an outcome").count() == 2
    hung = card(Tile.objects.for_the_wall().get(pk=tile.pk))
    assert hung.faults == ("crazing: rim",)
    assert "glossy" in hung.facts


def test_a_look_is_about_a_part_that_the_tile_has(two_layers, member):
    parts = {zone.kind: zone.combination for zone in two_layers.zones.all()}
    over = record_outcome(by=member, tile=two_layers, zone="overlap", surface="dry")
    assert over.combination == parts["overlap"]
    # Two layers lie alone, so the part is known only once it is named.
    assert record_outcome(by=member, tile=two_layers, zone="alone", surface="dry").combination is None
    assert record_outcome(by=member, tile=two_layers, zone="whole", surface="dry").combination is None
    with pytest.raises(Refused) as refused:
        record_outcome(
            by=member,
            tile=two_layers,
            zone="overlap",
            surface="dry",
            combination=make.fired_tile().zones.get().combination,
        )
    assert list(refused.value.problems) == ["combination"]
    with pytest.raises(Refused) as refused:
        record_outcome(by=member, tile=make.fired_tile(), zone="overlap", surface="dry")
    assert list(refused.value.problems) == ["zone"]


def test_a_look_at_a_tile_of_one_part_is_about_its_glazes(member):
    tile = make.fired_tile(by=member, layers=[{"glaze": make.glaze()}, {"glaze": make.glaze()}])
    assert record_outcome(by=member, tile=tile, surface="matte").combination == tile.zones.get().combination


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({}, ""),
        ({"surface": "", "faults": []}, ""),
        ({"surface": "shiny"}, "surface"),
        ({"movement_mm": -1}, "movement_mm"),
        ({"surface": "dry", "looked_on": timezone.localdate() + timedelta(days=2)}, "looked_on"),
        ({"faults": [{"kind": "rust"}]}, "kind"),
    ],
)
def test_what_cannot_be_kept(member, fields, named):
    tile = make.fired_tile(by=member)
    before = tile.version
    with pytest.raises(Refused) as refused:
        record_outcome(by=member, tile=tile, **fields)
    assert list(refused.value.problems) == [named]
    tile.refresh_from_db()
    assert (tile.version, tile.state, tile.outcomes.count()) == (before, "fired", 0)


def test_nothing_moved_is_something_said(member):
    tile = make.fired_tile(by=member)
    assert record_outcome(by=member, tile=tile, movement_mm=0).movement_mm == 0


def test_a_look_is_about_the_firing_that_it_came_out_of(member):
    tile = make.fired_tile(by=member)
    done = tile.tile_firings.get().firing
    load_tile(by=member, firing=make.firing(kind="refire"), tile=tile)
    assert record_outcome(by=member, tile=tile, surface="satin").firing == done
    with pytest.raises(Refused, match="not in that firing"):
        record_outcome(by=member, tile=tile, surface="satin", firing=make.firing())


def test_a_lost_tile_that_is_found_is_what_it_was(member):
    tile = make.fired_tile(by=member, outcome={"surface": "satin"})
    change_tile(by=member, obj=tile, values={"state": "lost"})
    assert possible_states(tile) == ["lost", "recorded", "broken"]
    change_tile(by=member, obj=tile, values={"state": "recorded"})
    assert tile.state == "recorded"
    with pytest.raises(Refused) as refused:
        change_tile(by=member, obj=tile, values={"state": "blank"})
    assert list(refused.value.problems) == ["state"]
