"""A device acts for the studio: what its owner keeps private is none of its business. A station is another thing."""

import pytest
from rest_framework.test import APIClient

from studio.actions.tokens import issue_token, person_of_key
from studio.models import Change
from tests import make
from tests.api_calls import picture
from tests.studio.conftest import photos_in
from tiles import actions
from tiles.models import Combination, Layer, Photo, Tile


@pytest.fixture
def device(technician):
    _token, key = issue_token(by=technician, name="tablet", scope="write", kind="device")
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Bearer {key}")
    client.person = person_of_key(key)[0]
    return client


@pytest.fixture
def private(technician):
    return make.tile("P9", by=technician, layers=[{"glaze": make.glaze()}], visibility="mine")


def test_it_neither_sees_nor_edits_its_owners_private_tile(device, technician, private):
    shared = make.tile("S9", by=technician)
    photo = actions.add_photo(by=technician, tile=private, file=picture())
    assert [tile["number"] for tile in device.get("/api/v1/tiles/").json()["results"]] == ["S9"]
    for address in (
        f"tiles/{private.pk}/",
        f"photos/{photo.pk}/",
        f"photos/{photo.pk}/image/?size=original",
        f"combinations/{Combination.objects.get().pk}/",
    ):
        assert device.get(f"/api/v1/{address}").status_code == 404, address
    assert not actions.may_edit(device.person, private)
    assert actions.may_edit(device.person, shared)
    assert set(Tile.objects.editable_by(device.person)) == {shared}
    assert actions.may_edit(technician, private)


def test_it_logs_tiles_for_the_studio_and_keeps_none_private(device):
    refused = device.post("/api/v1/tiles/", {"number": "D1", "visibility": "mine"}, format="json")
    assert refused.status_code == 400
    assert [error["field"] for error in refused.json()["errors"]] == ["visibility"]
    made = device.post("/api/v1/tiles/", {"number": "D1"}, format="json")
    assert made.status_code == 201
    address, tag = f"/api/v1/tiles/{made.json()['id']}/", {"If-Match": made["ETag"]}
    hidden = device.patch(address, {"visibility": "mine"}, format="json", headers=tag)
    assert hidden.status_code == 400
    assert device.patch(address, {"remark": "thin"}, format="json", headers=tag).status_code == 200


def test_the_original_is_for_its_sender_the_maker_and_technicians(people, client):
    tile = make.tile(by=people["member"])
    photo = actions.add_photo(by=people["other"], tile=tile, file=picture())
    third = make.person()
    for person, code in (
        (people["other"], 200),
        (people["member"], 200),
        (people["technician"], 200),
        (third, 403),
    ):
        client.force_login(person)
        for address in (f"/photos/{photo.pk}/original", f"/api/v1/photos/{photo.pk}/image/?size=original"):
            assert client.get(address).status_code == code, (person, address)
    assert "as it was sent" not in client.get(f"/photos/{photo.pk}/").content.decode()


def test_a_photo_whose_file_is_missing_is_not_there(people, client, settings, tmp_path):
    photo_folder = tmp_path / "photos"
    photos_in(settings, photo_folder)
    tile = make.tile(by=people["member"])
    photo = actions.add_photo(by=people["member"], tile=tile, file=picture())
    for file in photo_folder.rglob("*.*"):
        file.unlink()
    client.force_login(people["member"])
    for size in ("small", "original"):
        assert client.get(f"/api/v1/photos/{photo.pk}/image/?size={size}").status_code == 404


def test_what_changes_nothing_leaves_no_row_and_a_first_day_stays(people):
    tile = make.tile(by=people["member"], layers=[{"glaze": make.glaze()}])
    photo = actions.add_photo(by=people["member"], tile=tile, file=picture())
    actions.archive_photo(by=people["member"], photo=photo)
    first, rows = Photo.objects.get().archived_at, Change.objects.count()
    actions.archive_photo(by=people["member"], photo=Photo.objects.get())
    layer = Layer.objects.get()
    actions.change_layer(by=people["member"], layer=layer, values={"coats": layer.coats})
    assert Photo.objects.get().archived_at == first
    assert Change.objects.count() == rows


def test_a_zone_counts_its_layers_as_the_layers_do(people, client):
    tile = make.tile(
        by=people["member"], layers=[{"glaze": make.glaze()}, {"glaze": make.glaze(), "area": "upper"}]
    )
    client.force_login(people["member"])
    said = client.get(f"/api/v1/tiles/{tile.pk}/").json()
    positions = {layer["position"] for layer in said["layers"]}
    assert {p for zone in said["zones"] for p in zone["layer_positions"]} == positions == {1, 2}


def test_a_device_sends_a_loose_photo_that_it_does_not_see(device):
    firing = make.fire(make.firing(), make.tile(layers=[{"glaze": make.glaze()}]))
    sent = {"firing": str(firing.pk), "photo": picture()}
    made = device.post("/api/v1/loose-photos/", sent, format="multipart")
    assert made.status_code == 201
    assert device.get(f"/api/v1/loose-photos/{made.json()['id']}/").status_code == 404
