"""A teacher's class lists: what can be chosen, who may change them, and what the page of a teacher shows."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import ClassList, Glaze
from studio.errors import Refused, VersionConflict
from studio.models import Change
from studio.roles import NotAllowed
from tests import make


@pytest.fixture
def bought(studio):
    return make.glaze("Weir Blue", origin="bought")


@pytest.fixture
def fit(bought):
    return make.fill(bought, child_fit="yes")


def typed(*fills, **fields):
    today = timezone.localdate()
    return {
        "name": "Tuesday",
        "starts_on": today.isoformat(),
        "ends_on": (today + timedelta(days=3)).isoformat(),
        "for_children": "False",
        "fills": [str(f.pk) for f in fills],
        **fields,
    }


def test_for_children_only_what_its_own_container_names_fit(people, bought, fit):
    others = [make.fill(bought), make.fill(bought, child_fit="no"), make.fill(bought, child_fit="nothing")]
    others.append(make.fill(make.glaze("Millrace Ash")))  # mixed here: there is no container
    for fill in others:
        with pytest.raises(Refused, match="For children only what its own container names fit"):
            make.class_list(fit, fill, by=people["member"], for_children=True)
    assert make.class_list(fit, by=people["member"], for_children=True).fills.get() == fit
    assert make.class_list(fit, *others, by=people["member"]).fills.count() == 5


def test_an_existing_list_becomes_one_for_children_only_when_all_on_it_are_fit(people, bought, fit):
    made = make.class_list(fit, make.fill(bought), by=people["member"])
    with pytest.raises(Refused, match="For children"):
        shelf.change_class_list(by=people["member"], obj=made, values={"for_children": True})
    made.refresh_from_db()
    assert not made.for_children
    shelf.change_class_list(by=people["member"], obj=made, values={"for_children": True}, fills=[fit])
    made.refresh_from_db()
    assert made.for_children


def test_a_glaze_mixed_here_cannot_be_noted_as_fit_and_a_warning_is_not_overwritten(people, bought):
    technician = people["technician"]
    with pytest.raises(Refused, match="no container"):
        make.fill(make.glaze("Millrace Ash"), child_fit="yes")
    warned = make.fill(bought, child_fit="no")
    with pytest.raises(Refused, match="is not overwritten"):
        shelf.change_fill(by=technician, obj=warned, values={"child_fit": "yes"})


def test_who_read_the_container_is_kept_and_whoever_changes_something_else_is_no_reader(people, bought):
    fill = make.fill(bought, child_fit="yes", label="none", by=people["manager"])
    shelf.change_fill(
        by=people["technician"], obj=fill, values={"child_fit": "yes", "label": "none", "remark": "blue lid"}
    )
    fill.refresh_from_db()
    assert (fill.child_fit_read_by, fill.label_read_by) == (people["manager"], people["manager"])
    shelf.change_fill(by=people["technician"], obj=fill, values={"child_fit": "nothing", "label": "none"})
    fill.refresh_from_db()
    assert (fill.child_fit_read_by, fill.label_read_by) == (people["technician"], people["manager"])
    assert fill.child_fit_read_on == timezone.localdate()


def test_what_the_container_says_of_children_is_noted_on_the_fill_and_shown_with_its_reader(
    client, people, bought
):
    fill = make.fill(bought)
    client.force_login(people["technician"])
    answer = client.post(
        f"/fills/{fill.pk}/edit/",
        {"version": fill.version, "child_fit": "yes", "container_size": "473 mL", "price": "14,90"},
    )
    assert answer.status_code == 302
    fill.refresh_from_db()
    assert (fill.child_fit, fill.container_size, str(fill.price)) == ("yes", "473 mL", "14.90")
    page = client.get(f"/b/{fill.bucket.code}").content.decode()
    assert f"the container names it fit for children, read by {people['technician'].name}" in page


def test_what_was_turned_into_a_glaze_mixed_here_is_no_longer_for_children(people, bought, fit):
    shelf.change_glaze(by=people["manager"], obj=bought, values={"origin": Glaze.Origin.MIXED})
    fit.refresh_from_db()
    with pytest.raises(Refused, match="For children"):
        make.class_list(fit, by=people["member"], for_children=True)


def test_poured_together_with_something_unread_a_fill_is_fit_no_more(people, bought, fit):
    unread = make.fill(bought)
    shelf.transfer(by=people["technician"], source=unread, target=fit)
    fit.refresh_from_db()
    assert not fit.is_for_children
    assert fit.child_fit_read_by is None


def test_neither_somebody_elses_jar_nor_what_was_emptied_can_be_chosen(people, bought):
    member = people["member"]
    jar = make.fill(bought, bucket_=make.bucket(by=member, owner=member), by=member)
    assert make.class_list(jar, by=member).fills.get() == jar
    with pytest.raises(Refused, match="somebody else's own jar"):
        make.class_list(jar, by=people["other"])
    emptied = make.fill(bought)
    shelf.end_fill(by=people["manager"], fill=emptied, why="used up")
    with pytest.raises(Refused, match="Emptied"):
        make.class_list(emptied, by=member)


def test_its_teacher_and_technicians_change_a_list_and_nobody_else(people, fit):
    made = make.class_list(fit, by=people["member"])
    with pytest.raises(NotAllowed, match="somebody else's class"):
        shelf.change_class_list(by=people["other"], obj=made, values={"name": "Mine"})
    with pytest.raises(NotAllowed):
        shelf.close_class_list(by=people["other"], obj=made)
    with pytest.raises(NotAllowed):
        shelf.new_address(by=people["other"], obj=made)
    shelf.change_class_list(by=people["technician"], obj=made, values={"name": "Wednesday"}, version=1)
    with pytest.raises(VersionConflict):
        shelf.change_class_list(by=people["member"], obj=made, values={"name": "Thursday"}, version=1)


def test_a_closed_list_stays_closed_and_gets_no_new_address(people, fit):
    made = make.class_list(fit, by=people["member"])
    shelf.close_class_list(by=people["member"], obj=made)
    for act in (
        lambda: shelf.new_address(by=people["member"], obj=made),
        lambda: shelf.change_class_list(by=people["member"], obj=made, values={"name": "Again"}),
    ):
        with pytest.raises(Refused, match="was closed, and stays so"):
            act()
    assert not ClassList.objects.open().exists()


def test_the_history_says_which_buckets_and_never_the_address(people, fit):
    made = make.class_list(fit, by=people["member"])
    secret = made.secret
    shelf.new_address(by=people["member"], obj=made)
    rows = list(Change.objects.filter(kind="inventory.classlist", object_id=made.pk))
    assert {row.verb for row in rows} == {"created", "chose the buckets", "made a new address"}
    assert str(fit) in str([row.after for row in rows])
    made.refresh_from_db()
    assert made.secret != secret
    assert not any(s in str([(r.before, r.after, r.reason)]) for r in rows for s in (secret, made.secret))


def test_a_teacher_makes_a_list_and_what_was_typed_is_kept_when_it_cannot_be_made(client, people, fit):
    client.force_login(people["member"])
    page = client.post("/class-lists/new/", typed(fit, ends_on="2020-01-01"))
    assert page.status_code == 200
    assert "The last day comes before the first" in page.content.decode()
    assert f'value="{fit.pk}"' in page.content.decode()
    assert "checked" in page.content.decode()
    assert client.post("/class-lists/new/", typed(fit)).status_code == 302
    made = ClassList.objects.get()
    assert (made.teacher, made.fills.get()) == (people["member"], fit)


def test_the_form_for_children_lists_the_others_with_what_to_do(client, people, bought, fit):
    unread = make.fill(bought)
    client.force_login(people["technician"])
    page = client.get("/class-lists/new/?children=1").content.decode()
    assert f'value="{fit.pk}"' in page
    assert f'value="{unread.pk}"' not in page
    assert "Read the container and note it." in page
    assert f"/fills/{unread.pk}/edit/" in page
    refused = client.post("/class-lists/new/", typed(unread, for_children="True")).content.decode()
    assert "cannot be on the list any more" in refused
    assert not ClassList.objects.exists()


def test_two_teachers_at_once_see_what_each_wrote(client, people, bought, fit):
    made = make.class_list(fit, by=people["member"])
    shelf.change_class_list(by=people["technician"], obj=made, values={"name": "Renamed"})
    client.force_login(people["member"])
    answer = client.post(f"/class-lists/{made.pk}/edit/", typed(fit, name="Mine", version=1))
    assert answer.status_code == 409
    assert "Renamed" in answer.content.decode()
    assert "Mine" in answer.content.decode()
    assert "None" not in answer.content.decode()


def test_the_teachers_page_shows_the_entries_and_what_the_class_sees_barred(client, people, bought, fit):
    barred = make.fill(bought)
    made = make.class_list(fit, barred, by=people["member"])
    shelf.add_class_entry(class_list=made, fill=fit, makers=12, pieces=30, volume_ml=400, remark="all blue")
    shelf.raise_flag(by=people["other"], fill=barred, kind="contaminated")
    client.force_login(people["member"])
    page = client.get(f"/class-lists/{made.pk}/").content.decode()
    assert "12 makers" in page
    assert "400 mL" in page
    assert "all blue" in page
    assert "The class sees it barred until this is cleared." in page
    assert made.page_path in page
    paper = client.get(f"/class-lists/{made.pk}/paper/").content.decode()
    assert made.page_path in paper
    assert "wipe it up wet" in paper


def test_the_api_shows_a_teacher_the_own_lists_and_a_technician_all(client, people, fit):
    mine = make.class_list(fit, by=people["member"])
    make.class_list(fit, by=people["other"])
    shelf.add_class_entry(class_list=mine, fill=fit, makers=3, volume_ml=250)
    client.force_login(people["member"])
    (row,) = client.get("/api/v1/class-lists/").json()["results"]
    assert (row["id"], row["state"], row["fills"][0]["id"]) == (str(mine.pk), "open", str(fit.pk))
    assert row["address"].endswith(mine.page_path)
    (entry,) = client.get(f"/api/v1/class-lists/{mine.pk}/entries/").json()["results"]
    assert (entry["makers"], entry["volume_ml"]) == (3, "250.0")
    client.force_login(people["technician"])
    assert len(client.get("/api/v1/class-lists/?open=true").json()["results"]) == 2
    client.post(f"/api/v1/class-lists/{mine.pk}/close/", content_type="application/json")
    assert len(client.get("/api/v1/class-lists/?open=true").json()["results"]) == 1
