"""What the API refuses of a look, and which field it names."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from tests import make
from tiles.actions import load_tile

TOMORROW = (timezone.localdate() + timedelta(days=2)).isoformat()
BAD = [
    ({}, ""),
    ({"movement_mm": -1}, "movement_mm"),
    ({"movement_mm": 400}, "movement_mm"),
    ({"movement_mm": "far"}, "movement_mm"),
    ({"movement_mm": "NaN"}, "movement_mm"),
    ({"surface": "shiny"}, "surface"),
    ({"verdict": "maybe"}, "verdict"),
    ({"faults": [{"kind": "rust"}]}, "faults.0.kind"),
    ({"faults": [{"kind": "crazing", "place": "rim"}]}, "faults.0.place"),
    ({"faults": "crazing"}, "faults"),
    ({"surface": "dry", "zone": "overlap"}, "zone"),
    ({"surface": "dry", "zone": "corner"}, "zone"),
    ({"surface": "dry", "combination": str(uuid.UUID(int=7))}, "combination"),
    ({"surface": "dry", "firing": str(uuid.UUID(int=7))}, "firing"),
    ({"surface": "dry", "looked_on": TOMORROW}, "looked_on"),
    ({"surface": "dry", "looked_on": "yesterday"}, "looked_on"),
    ({"surface": "dry", "tile": "T1"}, "tile"),
]


@pytest.mark.parametrize(("sent", "named"), BAD, ids=range(len(BAD)))
def test_each_mistake_is_named_and_nothing_is_kept(member, sent, named):
    tile = make.fired_tile(by=member)
    client = APIClient()
    client.force_login(member)
    answer = client.post(f"/api/v1/tiles/{tile.pk}/outcomes/", sent, format="json")
    assert answer.status_code == 400
    assert {e["field"] for e in answer.json()["errors"]} == {named}
    assert not tile.outcomes.exists()


@pytest.mark.parametrize("state", ["planned", "firing", "cooling"])
def test_not_before_its_firing_is_unloaded(member, state):
    """Also a tile that was fired before: the look is about the firing that is named."""
    tile = make.fired_tile(by=member)
    again = make.firing(kind="refire")
    load_tile(by=member, firing=again, tile=tile)
    type(again).objects.filter(pk=again.pk).update(state=state)
    client = APIClient()
    client.force_login(member)
    sent = {"surface": "dry", "firing": str(again.pk)}
    answer = client.post(f"/api/v1/tiles/{tile.pk}/outcomes/", sent, format="json")
    assert (answer.status_code, [e["field"] for e in answer.json()["errors"]]) == (400, ["firing"])
    assert not tile.outcomes.exists()
