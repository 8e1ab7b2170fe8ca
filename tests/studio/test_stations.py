"""Station mode, as a browser at the glaze table goes through it: set up, locked, an entry."""

import pytest
from django.test import Client
from django.urls import reverse

from inventory.models import Flag
from studio.models import Change, Person, Station, Studio
from studio.views.stations import step_up_address
from tests import make
from tests.studio.at_the_table import FRONT, STEP_UP, asks_who, visit, with_pin

# Setting up and locked.


def test_setting_up_logs_the_technician_out_and_keeps_only_a_digest(tablet):
    cookie = tablet.cookies["station"]
    assert (cookie["httponly"], cookie["samesite"], cookie["max-age"]) == (True, "Lax", 365 * 86400)
    assert "_auth_user_id" not in tablet.session
    secret = cookie.value.split(":")[0]
    assert secret not in str(Station.objects.values())
    assert Change.objects.filter(verb="set up", object_text="Glaze table").exists()


@pytest.mark.parametrize("https", [True, False])
def test_the_cookie_is_kept_to_https_where_there_is_https(settings, technician, https):
    settings.HTTPS = https
    browser = Client()
    browser.force_login(technician)
    browser.post(reverse("studio:stations"), {"name": "Glaze table"})
    assert bool(browser.cookies["station"]["secure"]) is https


def test_a_locked_station_shows_the_shelf_and_no_name_of_a_person(tablet, fill, wren):
    jar_owner = make.person("member", name="Ewe Lambton")
    jar = make.bucket(by=jar_owner, owner=jar_owner)
    make.fill(make.glaze("Own Secret"), bucket_=jar, by=jar_owner)
    flagged = make.fill(make.glaze("Sluice Blue"))
    Flag.objects.create(fill=flagged, kind="contaminated", raised_by=wren, note="seen by Wren Alder")
    pages = [
        tablet.get(FRONT),
        tablet.get(fill.bucket.get_absolute_url()),
        tablet.get(flagged.bucket.get_absolute_url()),
    ]
    assert [page.status_code for page in pages] == [200, 200, 200]
    assert "Weir Green" in pages[0].text
    assert "Do not use" in pages[0].text
    assert "Own Secret" not in pages[0].text
    for page in pages:
        for name in Person.objects.values_list("name", flat=True):
            assert name not in page.text
    names = tablet.get(STEP_UP).text
    assert "Wren Alder" in names
    assert "Ewe Lambton" not in names, "without a PIN there is nothing to press"


@pytest.mark.parametrize(
    "name", ["inventory:shelf", "tiles:log-start", "studio:more", "studio:account", "studio:people"]
)
def test_every_other_page_asks_who_it_is(tablet, name):
    there = reverse(name) + "?q=a%26b"
    assert asks_who(tablet.get(there), there)


def test_nobody_logs_in_at_a_station(tablet, technician):
    page = reverse("studio:login")
    assert asks_who(tablet.get(f"{page}?next=/shelf/"), "/shelf/")
    tablet.post(page, {"username": technician.username, "password": make.PASSWORD})
    assert asks_who(tablet.get("/shelf/"), "/shelf/")


def test_a_log_in_that_is_in_the_browser_already_counts_for_nothing(tablet, manager):
    tablet.force_login(manager)
    assert asks_who(tablet.get(reverse("studio:people")), reverse("studio:people"))
    assert "_auth_user_id" not in tablet.session


def test_buckets_are_seen_at_a_station_when_visitors_see_none(tablet, fill):
    Studio.objects.update(bucket_pages_open=False)
    address = fill.bucket.get_absolute_url()
    assert Client().get(address).status_code == 302
    assert "Record SG" in tablet.get(address).text


# Whose browser it is.


def test_a_closed_station_is_a_browser_like_any_other(tablet, technician, wren, sg_page):
    visit(tablet, wren)
    desk = Client()
    desk.force_login(technician)
    station = Station.objects.get()
    assert desk.post(reverse("studio:station-close", args=[station.pk])).status_code == 302
    for page in (FRONT, STEP_UP, sg_page):
        assert tablet.get(page)["Location"].startswith(reverse("studio:login")), "not a station any more"
    assert tablet.post(sg_page, {"specific_gravity": "1.46"})["Location"].startswith(reverse("studio:login"))
    assert visit(tablet, wren)["Location"].startswith(reverse("studio:login"))


@pytest.mark.parametrize(
    "forge", [lambda v: v[:-1] + "x", lambda v: v.split(":")[0], lambda v: "", lambda v: "a:b:c"]
)
def test_a_forged_cookie_opens_nothing(tablet, wren, forge):
    stranger = Client()
    stranger.cookies["station"] = forge(tablet.cookies["station"].value)
    assert stranger.get(FRONT)["Location"].startswith(reverse("studio:login"))
    assert visit(stranger, wren)["Location"].startswith(reverse("studio:login"))


def test_a_visit_is_not_carried_to_another_station(tablet, technician, wren):
    visit(tablet, wren)
    other = Client()
    other.force_login(technician)
    other.post(reverse("studio:stations"), {"name": "Kiln room"})
    other.cookies["sessionid"] = tablet.cookies["sessionid"].value
    assert asks_who(other.get("/shelf/"), "/shelf/")


def test_a_visit_without_the_stations_cookie_is_nobody(tablet, wren):
    visit(tablet, wren)
    del tablet.cookies["station"]
    assert tablet.get("/shelf/")["Location"].startswith(reverse("studio:login"))


# A visit.


def test_an_entry_step_by_step(tablet, wren, fill, sg_page):
    """Bucket, name, PIN, entry; what it asks for is shown; then nobody is there."""
    assert asks_who(tablet.get(sg_page), sg_page)
    names = tablet.get(step_up_address(sg_page)).text
    assert f'value="{wren.pk}"' in names
    pad = tablet.get(STEP_UP, {"person": wren.pk, "next": sg_page}).text
    assert 'inputmode="numeric"' in pad
    assert 'autocomplete="off"' in pad
    assert visit(tablet, wren, sg_page)["Location"] == sg_page
    form = tablet.get(sg_page)
    assert "Done, lock" in form.text
    assert form["Cache-Control"] == "private, no-store"
    written = tablet.post(sg_page, {"specific_gravity": "1.46", "method": "weighed", "fill": fill.pk})
    assert written.status_code == 302
    shown = tablet.get(written["Location"]).text
    assert "Recorded: 1.46" in shown
    assert "The station is locked again" in shown
    assert "Done, lock" not in shown
    assert asks_who(tablet.get(written["Location"]), written["Location"])
    row = Change.objects.filter(verb="measured").latest("at")
    assert (row.actor, row.via) == (wren, "station Glaze table")
    assert Station.objects.get().last_used_at is not None


def test_a_refused_entry_does_not_lock(tablet, wren, fill, sg_page):
    visit(tablet, wren, sg_page)
    refused = tablet.post(sg_page, {"specific_gravity": "153", "method": "weighed", "fill": fill.pk})
    assert "1.53" in refused.text
    assert tablet.get(sg_page).status_code == 200


def test_what_follows_a_redirect_of_a_redirect_is_still_shown(tablet, wren, fill, sg_page):
    visit(tablet, wren, sg_page)
    tablet.post(sg_page, {"specific_gravity": "1.46", "method": "weighed", "fill": fill.pk})
    assert tablet.get("/log/set/").status_code == 302  # no set is in hand: on to choosing
    assert tablet.get("/shelf/").status_code == 200
    assert tablet.get("/shelf/").status_code == 302


def test_logging_a_tile_takes_several_steps_and_ends_with_done(tablet, wren, fill):
    tile = make.tile("W1", by=wren, body=make.body())
    page = reverse("tiles:log", args=["W1"])
    visit(tablet, wren, page)
    layer = {"other_fill": fill.pk, "method": "dip", "coats": 1, "area": "whole", "ground": "bisque"}
    for _coat in range(2):
        version = tablet.get(page).context["tile"].version
        answer = tablet.post(page, {"version": version, **layer})
        assert answer.status_code == 302
        assert "Done, lock" in tablet.get(answer["Location"]).text
    assert tile.layers.count() == 2
    assert Change.objects.filter(via="station Glaze table", actor=wren).count() >= 2
    assert tablet.get(FRONT).status_code == 200
    assert asks_who(tablet.get(page), page)


def test_done_locks_at_once(tablet, wren):
    visit(tablet, wren)
    assert tablet.get("/shelf/").status_code == 200
    tablet.get(FRONT)
    assert asks_who(tablet.get("/shelf/"), "/shelf/")


def test_a_wrong_pin_lets_nobody_in_and_ends_the_visit_before(tablet, wren, people):
    visit(tablet, wren)
    other = with_pin(people["other"])
    wrong = visit(tablet, other, pin="9999")
    assert f"not the PIN of {other.name}" in wrong.text
    assert "9999" not in wrong.text
    assert asks_who(tablet.get("/shelf/"), "/shelf/")


def test_after_five_wrong_pins_the_right_one_waits(tablet, wren):
    answers = [visit(tablet, wren, pin="9999").text for _i in range(5)]
    assert "this one sleeps" in answers[-1]
    assert "this one sleeps" in visit(tablet, wren).text


def test_onward_never_leads_away_from_the_studio(tablet, wren):
    assert visit(tablet, wren, "https://elsewhere.example/")["Location"] == "/"
