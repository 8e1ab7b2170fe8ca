"""A label against food goes only as mistaken, with a reason; nothing else that is done to a fill takes it away."""

import pytest

from inventory import actions as shelf
from inventory.models import Flag
from studio.errors import Refused, VersionConflict
from studio.models import Change
from studio.roles import NotAllowed
from tests import make

REASON = "Read from the lid of the next jar."


@pytest.fixture
def fill(studio):
    return make.fill(make.glaze(origin="bought"), label="not_for_food", lot="7")


def test_it_is_taken_back_with_a_reason_and_read_anew(fill):
    technician = make.person("technician")
    shelf.withdraw_label(by=technician, fill=fill, reason=REASON)
    fill.refresh_from_db()
    assert (fill.label, fill.label_read_by, fill.label_read_on) == ("", None, None)
    row = Change.objects.get(object_id=fill.pk, verb="withdrew the label as mistaken")
    assert (row.reason, row.before["label"], row.actor) == (REASON, "not_for_food", technician)
    shelf.change_fill(by=technician, obj=fill, values={"label": "none"})


def test_never_without_a_reason_nor_by_a_member_nor_over_a_newer_version(fill, member):
    technician = make.person("technician")
    with pytest.raises(Refused) as refused:
        shelf.withdraw_label(by=technician, fill=fill, reason=" ")
    assert list(refused.value.problems) == ["reason"]
    with pytest.raises(NotAllowed):
        shelf.withdraw_label(by=member, fill=fill, reason=REASON)
    with pytest.raises(VersionConflict):
        shelf.withdraw_label(by=technician, fill=fill, reason=REASON, version=fill.version - 1)
    fill.refresh_from_db()
    assert fill.label == "not_for_food"


@pytest.mark.parametrize("label", ["", "none", "food_safe", "dinnerware_safe"])
def test_no_other_label_is_taken_back_that_way(studio, label):
    other = make.fill(make.glaze(origin="bought"), label=label)
    with pytest.raises(Refused, match="nothing to take back"):
        shelf.withdraw_label(by=make.manager(), fill=other, reason=REASON)


@pytest.mark.parametrize("label", ["", "none", "food_safe"])
def test_nothing_else_takes_it_away(fill, label):
    manager = make.manager()
    with pytest.raises(Refused, match="take it back with a reason"):
        shelf.change_fill(by=manager, obj=fill, values={"label": label})
    shelf.top_up(by=manager, fill=fill, lot="8", volume_ml=100)
    out_of = make.fill(fill.glaze, label="food_safe")
    shelf.transfer(by=manager, source=out_of, target=fill, volume_ml=100)
    fill.refresh_from_db()
    assert fill.label == "not_for_food"


def test_what_it_was_poured_into_stays_flagged_until_somebody_looks(fill):
    manager = make.manager()
    into = make.fill(fill.glaze)
    shelf.transfer(by=manager, source=fill, target=into, volume_ml=100)
    shelf.withdraw_label(by=manager, fill=fill, reason=REASON)
    assert Flag.objects.open().get(fill=into).kind == "not_for_food"


def test_by_page(client, fill):
    technician = make.person("technician")
    client.force_login(technician)
    bucket = fill.bucket.get_absolute_url()
    address = f"/fills/{fill.pk}/label/mistaken/"
    assert address in client.get(bucket).content.decode()
    assert client.post(address, {"reason": "", "version": fill.version}).status_code == 200
    assert client.post(address, {"reason": REASON, "version": fill.version}).status_code == 302
    assert address not in client.get(bucket).content.decode()
