"""Places: where things stand, in the order in which one walks."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from inventory import actions as shelf
from inventory.models import Place
from tests import make
from tests.reading import text_of

LIST = "/places/"


@pytest.fixture
def room(manager):
    return shelf.create_place(by=manager, name="Glaze room", kind="room")


def test_a_shelf_in_a_room_is_named_and_changed(client, technician, room):
    client.force_login(technician)
    data = {"name": "Long shelf", "kind": "shelf", "parent": room.pk, "order": 2}
    client.post(reverse("inventory:place-new"), data)
    place = Place.objects.get(name="Long shelf")
    assert (place.parent, place.order) == (room, 2)
    client.post(
        reverse("inventory:place-edit", args=[place.pk]), {**data, "order": 3, "version": place.version}
    )
    place.refresh_from_db()
    assert (place.order, place.version) == (3, 2)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "Glaze room", "parent": ""}, "There is a place of this name already."),
        ({"order": "-1"}, "greater than or equal to 0"),
        ({"order": "first"}, "Enter a whole number."),
        ({"kind": "cave"}, "Select a valid choice"),
        ({"parent": "00000000-0000-0000-0000-000000000000"}, "Select a valid choice"),
    ],
)
def test_a_refused_place_keeps_what_was_typed(client, technician, room, change, sentence):
    client.force_login(technician)
    data = {"name": "Window & sill", "kind": "shelf", "parent": room.pk, "order": 2, **change}
    answer = client.post(reverse("inventory:place-new"), data)
    assert sentence in text_of(answer)
    assert escape(data["name"]) in answer.content.decode()
    assert f'value="{data["order"]}"' in answer.content.decode()
    assert Place.objects.count() == 1


def test_a_place_is_never_inside_itself(client, technician, manager, room):
    inner = shelf.create_place(by=manager, name="Long shelf", parent=room)
    client.force_login(technician)
    answer = client.post(
        reverse("inventory:place-edit", args=[room.pk]),
        {"name": "Glaze room", "kind": "room", "parent": inner.pk, "order": 0, "version": room.version},
    )
    assert "A place cannot be inside itself." in text_of(answer)
    room.refresh_from_db()
    assert room.parent is None


def test_places_stand_in_walking_order_with_how_many_buckets(client, member, manager, room):
    last = shelf.create_place(by=manager, name="A last one", order=9, parent=room)
    make.bucket(place=last)
    shelf.archive(by=manager, obj=make.bucket(place=last))
    client.force_login(member)
    answer = client.get(LIST)
    assert [(p.name, p.bucket_count) for p in answer.context["rows"]] == [
        ("Glaze room", 0),
        ("A last one", 1),
    ]


def test_a_place_put_away_is_offered_no_more_but_keeps_what_stands_there(client, technician, room):
    bucket = make.bucket(place=room)
    client.force_login(technician)
    client.post(reverse("inventory:place-archive", args=[room.pk]), {"version": room.version})
    assert list(client.get(LIST).context["rows"]) == []
    fresh = client.get(reverse("inventory:bucket-new")).context["form"]
    assert room not in fresh.fields["place"].queryset
    # The bucket that stands there can still be changed without being moved.
    edit = reverse("inventory:bucket-edit", args=[bucket.code])
    client.post(edit, {"version": bucket.version, "place": room.pk, "remark": "dented"})
    bucket.refresh_from_db()
    assert (bucket.place, bucket.remark) == (room, "dented")


def test_the_register_of_a_room_lists_what_stands_on_its_shelves(client, technician, room):
    shelf_in_it = shelf.create_place(by=technician, name="Long shelf", parent=room)
    fill = make.fill(bucket_=make.bucket(place=shelf_in_it))
    make.fill()
    client.force_login(technician)
    found = client.get("/api/v1/register/", {"place": room.pk}).json()["results"]
    assert [row["id"] for row in found] == [str(fill.pk)]
