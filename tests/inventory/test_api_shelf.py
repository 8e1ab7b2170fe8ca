"""The shelf by the API: versions, own ids, and a bucket that says how it stands."""

import threading
from uuid import uuid4

import pytest
from django.db import connection
from rest_framework.test import APIClient

from inventory import actions
from inventory.models import Flag, Glaze
from studio.errors import VersionConflict
from studio.models import Change
from tests import make


@pytest.fixture
def api(people):
    """A client for each role."""
    clients = {}
    for role, person in people.items():
        clients[role] = APIClient()
        clients[role].force_login(person)
    return clients


def test_a_record_carries_its_version_as_etag(api):
    made = api["manager"].post(
        "/api/v1/glazes/", {"name": "Weir Green", "cone_low": "05 1/2", "cone_high": "6"}
    )
    assert made.status_code == 201
    assert made.headers["ETag"] == '"1"'
    assert made.json()["cone_low"] == "05.5"
    address = f"/api/v1/glazes/{made.json()['id']}/"
    read = api["member"].get(address)
    assert (read.headers["ETag"], read.json()) == ('"1"', made.json())
    changed = api["manager"].patch(address, {"remark": "thin"}, headers={"If-Match": read.headers["ETag"]})
    assert (changed.status_code, changed.headers["ETag"]) == (200, '"2"')
    assert changed.json() == {**made.json(), "remark": "thin", "version": 2}


def test_of_two_writers_the_second_is_told_both_versions(api):
    glaze = make.glaze("Weir Green")
    address = f"/api/v1/glazes/{glaze.pk}/"
    etag = api["manager"].get(address).headers["ETag"]
    first = api["manager"].patch(address, {"remark": "first"}, headers={"If-Match": etag})
    second = api["technician"].patch(address, {"remark": "second"}, headers={"If-Match": etag})
    assert (first.status_code, second.status_code) == (200, 412)
    body = second.json()
    assert (body["your_version"], body["current_version"]) == (1, 2)
    assert body["current"] == first.json()
    assert second.headers["ETag"] == '"2"'
    assert Glaze.objects.get().remark == "first"


@pytest.mark.django_db(transaction=True)
def test_of_two_writers_at_once_one_wins():
    make.studio()
    manager, glaze, start = make.manager(), make.glaze(), threading.Barrier(2)
    outcomes = []

    def write(remark):
        start.wait(10)
        try:
            actions.change_glaze(by=manager, obj=glaze, values={"remark": remark}, version=1)
            outcomes.append(remark)
        except VersionConflict as conflict:
            outcomes.append((conflict.yours, conflict.current))
        finally:
            connection.close()

    writers = [threading.Thread(target=write, args=(remark,)) for remark in ("one", "other")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join(30)
    assert (1, 2) in outcomes
    (won,) = (outcome for outcome in outcomes if outcome != (1, 2))
    assert Glaze.objects.get().remark == won
    assert Change.objects.filter(kind="inventory.glaze", verb="changed").count() == 1


def test_a_client_may_choose_the_id_once(api):
    chosen = str(uuid4())
    made = api["manager"].post("/api/v1/glazes/", {"id": chosen, "name": "A"})
    assert made.json()["id"] == chosen
    again = api["manager"].post("/api/v1/glazes/", {"id": chosen, "name": "B"})
    assert again.status_code == 400
    assert [row["field"] for row in again.json()["errors"]] == ["id"]
    moved = api["manager"].patch(
        f"/api/v1/glazes/{chosen}/", {"id": str(uuid4())}, headers={"If-Match": '"1"'}
    )
    assert moved.status_code == 400
    assert Glaze.objects.count() == 1


def test_an_archived_record_leaves_the_list_and_keeps_its_address(api):
    glaze = make.glaze()
    archived = api["technician"].post(f"/api/v1/glazes/{glaze.pk}/archive/", {"reason": "never worked"})
    assert archived.json()["archived_at"]
    assert api["member"].get("/api/v1/glazes/").json()["results"] == []
    assert len(api["member"].get("/api/v1/glazes/", {"archived": "true"}).json()["results"]) == 1
    assert api["member"].get(f"/api/v1/glazes/{glaze.pk}/").status_code == 200


def test_a_bucket_says_both_answers_and_why(api):
    """Use and food stand side by side, each with its reasons in sentences."""
    bought = make.glaze("Quay White", origin="bought", sg_low="1.450", sg_high="1.500")
    fill = make.fill(bought, label="food_safe", sg="1.40")
    address = f"/api/v1/buckets/{fill.bucket_id}/"
    said = api["member"].get(address).json()["fill"]
    assert (said["use"], said["food"], said["sg"]) == ("ask", "label_food_safe", "1.400")
    (reason,) = said["use_reasons"]
    assert reason["code"] == "sg_low"
    assert "1.40" in reason["sentence"]
    assert "1.45" in reason["sentence"]

    flag = {"kind": "contaminated", "note": "blue in it"}
    assert api["member"].post(f"/api/v1/fills/{fill.pk}/flags/", flag).status_code == 201
    joined = api["other"].post(f"/api/v1/fills/{fill.pk}/flags/", {**flag, "note": "a lot of it"})
    assert joined.status_code == 200
    assert [note["text"] for note in joined.json()["notes"]] == ["a lot of it"]
    said = api["member"].get(address).json()["fill"]
    assert (said["use"], said["food"]) == ("do_not_use", "label_food_safe")
    assert [reason["code"] for reason in said["use_reasons"]] == ["contaminated", "sg_low"]
    use = api["member"].get("/api/v1/buckets/", {"use": "do_not_use"}).json()["results"]
    assert [bucket["id"] for bucket in use] == [str(fill.bucket_id)]

    withdrawn = api["member"].post(f"/api/v1/flags/{joined.json()['id']}/withdraw/", {})
    assert withdrawn.status_code == 403  # somebody else has acted
    cleared = api["technician"].post(
        f"/api/v1/flags/{joined.json()['id']}/clear/",
        {"outcome": "mistaken", "note": "a blue lid, not glaze"},
    )
    assert cleared.json()["is_open"] is False
    assert api["member"].get(address).json()["fill"]["use"] == "ask"
    assert Flag.objects.count() == 1


def test_what_is_written_about_a_fill_moves_its_version(api):
    fill = make.fill()
    read = api["member"].get(f"/api/v1/fills/{fill.pk}/").headers["ETag"]
    added = api["member"].post(f"/api/v1/fills/{fill.pk}/readings/", {"specific_gravity": 1.5})
    assert added.json()["specific_gravity"] == "1.500"
    assert added.headers["ETag"] != read
    assert added.headers["ETag"] == api["member"].get(f"/api/v1/fills/{fill.pk}/").headers["ETag"]
    stale = api["manager"].patch(f"/api/v1/fills/{fill.pk}/", {"lot": "7"}, headers={"If-Match": read})
    assert stale.status_code == 412
    listed = api["member"].get(f"/api/v1/fills/{fill.pk}/readings/").json()["results"]
    assert [row["id"] for row in listed] == [added.json()["id"]]
