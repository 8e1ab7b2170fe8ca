"""What a visit to a station may do, and how it ends by itself."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.models import Reading
from studio import station_door
from studio.models import Person, Studio
from studio.views.stations import step_up_address
from tests import make
from tests.studio.at_the_table import FRONT, PIN, STEP_UP, asks_who, move_clock, visit, with_pin

# Idle.


def test_an_idle_station_locks_itself(tablet, wren, monkeypatch):
    Studio.objects.update(station_locks_after_seconds=60)
    visit(tablet, wren)
    move_clock(monkeypatch, seconds=59)
    assert tablet.get("/shelf/").status_code == 200
    move_clock(monkeypatch, seconds=59)
    assert tablet.get(reverse("studio:station-here")).status_code == 204, "typing counts as asking"
    move_clock(monkeypatch, seconds=59)
    assert tablet.get("/shelf/").status_code == 200
    move_clock(monkeypatch, seconds=60)
    assert asks_who(tablet.get("/shelf/"), "/shelf/")


def test_the_screen_goes_back_by_itself_without_a_script(tablet, wren):
    Studio.objects.update(station_locks_after_seconds=45)
    visit(tablet, wren)
    for page in ("/shelf/", STEP_UP):
        assert '<meta http-equiv="refresh" content="45;url=/station/">' in tablet.get(page).text


def test_what_was_typed_before_it_locked_is_sent_by_who_steps_up_now(
    tablet, wren, people, fill, sg_page, monkeypatch
):
    other = with_pin(people["other"])
    visit(tablet, wren, sg_page)
    move_clock(monkeypatch, seconds=91)
    typed = {"specific_gravity": "1.47", "method": "weighed", "fill": str(fill.pk), "remark": "a & b"}
    asked = tablet.post(sg_page, typed)
    assert "What you typed is kept" in asked.text
    assert Reading.objects.filter(specific_gravity="1.47").count() == 0
    fields = {"typed": asked.context["typed"], "next": asked.context["there"], "person": other.pk}
    assert tablet.post(STEP_UP, fields).context["person"] == other
    send = tablet.post(STEP_UP, {**fields, "pin": PIN})
    assert send.context["there"] == sg_page
    assert dict(send.context["fields"]) == {**typed, **dict(send.context["fields"])}
    assert tablet.post(sg_page, dict(send.context["fields"])).status_code == 302
    reading = Reading.objects.get(specific_gravity="1.47")
    assert (reading.by, reading.remark) == (other, "a & b")


def test_nothing_typed_on_an_account_page_goes_along(tablet):
    answer = tablet.post(reverse("studio:account-pin"), {"pin": "5082", "again": "5082"})
    assert asks_who(answer, reverse("studio:account-pin"))
    assert "5082" not in answer["Location"]


# Rights.


def test_an_account_that_is_closed_ends_the_visit(tablet, wren):
    visit(tablet, wren)
    Person.objects.filter(pk=wren.pk).update(is_active=False)
    assert asks_who(tablet.get("/shelf/"), "/shelf/")
    assert wren.name not in tablet.get(STEP_UP).text
    assert "Who is it?" in visit(tablet, wren).text
    assert asks_who(tablet.get("/shelf/"), "/shelf/")


def test_a_manager_at_a_station_is_a_member(tablet, manager, fill):
    with_pin(manager)
    flag = make.shelf.raise_flag(by=manager, fill=fill, kind="contaminated")
    clear = reverse("inventory:flag-clear", args=[flag.pk])
    visit(tablet, manager)
    assert tablet.get(clear).status_code == 403
    assert tablet.post(clear, {"outcome": "emptied", "note": "washed"}).status_code == 403
    flag.refresh_from_db()
    assert flag.is_open
    assert tablet.get(reverse("inventory:glaze-new")).status_code == 403
    manager.refresh_from_db()
    assert manager.role == "manager"


@pytest.mark.parametrize(
    "name",
    [
        "account",
        "account-pin",
        "account-password",
        "account-tokens",
        "people",
        "invite",
        "history",
        "settings",
        "stations",
        "api-docs",
        "login",
    ],
)
def test_accounts_are_nobodys_business_at_a_station(tablet, manager, name):
    with_pin(manager)
    visit(tablet, manager)
    for answer in (tablet.get(reverse(f"studio:{name}")), tablet.post(reverse(f"studio:{name}"))):
        assert answer.status_code == 403
        assert "This is not done at a station" in answer.text


def test_more_offers_only_what_is_in_reach(tablet, manager):
    with_pin(manager)
    visit(tablet, manager)
    more = tablet.get(reverse("studio:more")).text
    assert reverse("inventory:flag-list") in more
    for name in ("account", "people", "history", "settings", "stations", "logout"):
        assert f'"{reverse(f"studio:{name}")}"' not in more


def test_the_api_does_not_take_a_stations_visit(tablet, manager):
    with_pin(manager)
    visit(tablet, manager)
    for answer in (
        tablet.get("/api/v1/me/"),
        tablet.patch("/api/v1/studio/", {}, content_type="application/json"),
    ):
        assert answer.status_code == 401
        assert "A station writes through its pages" in answer.json()["detail"]
    tablet.get(FRONT)
    assert tablet.get("/api/v1/me/").status_code == 401


def test_a_fragment_that_is_asked_for_too_late_sends_the_whole_page_to_the_names(tablet):
    answer = tablet.get(
        "/shelf/?q=x", headers={"HX-Request": "true", "HX-Current-URL": "http://testserver/shelf/"}
    )
    assert answer["HX-Redirect"] == step_up_address("/shelf/")


def test_what_the_last_visit_was_still_to_be_told_is_not_told_to_the_next(tablet, wren, fill, monkeypatch):
    page = reverse("inventory:flag-new", args=[fill.bucket.code])
    visit(tablet, wren, page)
    assert tablet.post(page, {"kind": "other", "note": "smells", "fill": fill.pk}).status_code == 302
    move_clock(monkeypatch, seconds=91)
    for there in (fill.bucket.get_absolute_url(), fill.bucket.get_absolute_url(), FRONT, STEP_UP):
        assert "It is in force at once" not in tablet.get(there).text


def test_other_browsers_know_nothing_of_stations(member, client):
    client.force_login(member)
    for page in (FRONT, STEP_UP, reverse("studio:station-here")):
        assert client.get(page).status_code == 404
    assert "station.js" not in client.get("/shelf/").text
    assert station_door.API == "/api/v1/"


def test_a_chosen_photo_that_a_locked_station_cannot_keep_is_said(tablet, fill):
    page = reverse("inventory:flag-new", args=[fill.bucket.code])
    typed = {"kind": "other", "note": "smells", "fill": fill.pk}
    said = "Only the photos are not kept"
    assert said not in tablet.post(page, typed).text
    photo = SimpleUploadedFile("lid.jpg", b"any", content_type="image/jpeg")
    assert said in tablet.post(page, typed | {"photo": photo}).text


def test_a_link_puts_no_entry_into_anybodys_mouth(tablet, wren, fill):
    page = reverse("inventory:flag-new", args=[fill.bucket.code])
    link = {"next": page, "typed": "kind=contaminated&note=planted"}
    for query in (link, link | {"person": wren.pk}):
        assert "planted" not in tablet.get(STEP_UP, query).text


def test_who_steps_up_while_somebody_else_is_there_acts_under_their_own_name(
    tablet, wren, people, fill, sg_page
):
    """The page for the PIN may have stood open in another tab."""
    other = with_pin(people["other"])
    visit(tablet, wren, sg_page)
    visit(tablet, other, sg_page)
    assert tablet.get(sg_page).context["request"].user == other
    said = {"specific_gravity": "1.47", "method": "weighed", "fill": str(fill.pk)}
    assert tablet.post(sg_page, said).status_code == 302
    assert Reading.objects.get(specific_gravity="1.47").by == other
