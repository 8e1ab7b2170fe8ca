"""The tablet at the glaze table: set up by a technician, used by a member with a name and a PIN, locked again."""

import re
import time

import pytest
from playwright.sync_api import expect

from inventory import actions as shelf
from inventory.models import Reading
from studio.actions.stations import set_pin
from studio.models import Studio
from tests import make

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PIN = "4071"


@pytest.fixture
def table():
    make.studio()
    technician, member = make.person("technician", name="Odd Weaver"), make.person(name="Wren Alder")
    others = make.person(name="Mina Race"), make.person(name="Jory of the Long Name Pell")
    for person in (technician, member, *others):
        set_pin(by=person, pin=PIN)
    place = shelf.create_place(by=technician, name="Long shelf")
    green = make.glaze("Weir Ash", sg_low="1.40", sg_high="1.46")
    ash = make.fill(green, bucket_=make.bucket(place=place), sg="1.45")
    blue = make.fill(make.glaze("Millrace Blue"), bucket_=make.bucket(place=place), sg="1.50")
    shelf.raise_flag(by=member, fill=blue, kind="contaminated")
    shelf.add_stock_entry(by=member, fill=ash, kind="level", level="half")
    return {"technician": technician, "member": member, "ash": ash}


def become_a_station(tablet, table, log_in):
    log_in(tablet, table["technician"])
    tablet.goto("/stations/")
    tablet.get_by_label("Where it stands").fill("Glaze table")


def give_pin(tablet, name, pin=PIN):
    tablet.get_by_role("button", name=name).click()
    tablet.get_by_label("PIN").fill(pin)
    tablet.get_by_label("PIN").press("Enter")


@pytest.mark.parametrize("javascript", [True, False], ids=["with JavaScript", "without"])
def test_set_up_step_up_record_and_locked(table, page_at, log_in, shot, javascript):
    tablet = page_at(768, javascript=javascript)
    tablet.set_viewport_size({"width": 768, "height": 1024})
    become_a_station(tablet, table, log_in)
    shot(tablet, "station-set-up")
    tablet.get_by_role("button", name="Make it a station").click()

    expect(tablet.get_by_role("heading", name="Glaze table")).to_be_visible()
    expect(tablet.locator("body")).to_contain_text("Do not use")
    expect(tablet.locator("body")).not_to_contain_text("Odd Weaver")
    shot(tablet, "station-locked")

    tablet.get_by_role("link", name="Weir Ash").click()
    expect(tablet.get_by_role("link", name="Log in")).to_have_count(0)
    shot(tablet, "station-bucket")
    tablet.get_by_role("link", name="Record SG").click()
    expect(tablet.get_by_role("heading", name="Who is it?")).to_be_visible()
    shot(tablet, "station-names")
    give_pin(tablet, "Wren Alder", "9999")
    expect(tablet.locator(".errorlist")).to_contain_text("That is not the PIN of Wren Alder.")
    expect(tablet.get_by_label("PIN")).to_have_value("")
    shot(tablet, "station-pin")
    tablet.get_by_label("PIN").fill(PIN)
    tablet.get_by_label("PIN").press("Enter")

    expect(tablet.get_by_role("link", name="Done, lock")).to_be_visible()
    shot(tablet, "station-entry")
    tablet.get_by_label("Specific gravity").fill("1.49")
    tablet.get_by_role("button", name="Record").click()
    expect(tablet.get_by_text("Recorded: 1.49")).to_be_visible()
    expect(tablet.get_by_text("The station is locked again")).to_be_visible()
    shot(tablet, "station-done")
    assert Reading.objects.get(specific_gravity="1.49").by == table["member"]

    # Weighed again, on the page that is still open: what was typed is kept, and sent under whoever's name it is now.
    tablet.get_by_label("Specific gravity").fill("1.44")
    tablet.get_by_role("button", name="Record").click()
    expect(tablet.get_by_text("The station had locked itself")).to_be_visible()
    give_pin(tablet, "Mina Race")
    expect(tablet.get_by_role("heading", name="Send it now")).to_be_visible()
    shot(tablet, "station-send")
    tablet.get_by_role("button", name="Send it").click()
    expect(tablet.get_by_text("Written down as Mina Race.")).to_be_visible()
    assert Reading.objects.get(specific_gravity="1.44").by.name == "Mina Race"

    tablet.goto("/shelf/")
    expect(tablet.get_by_role("heading", name="Who is it?")).to_be_visible()
    assert tablet.evaluate("document.documentElement.scrollWidth") == 768


def test_the_screen_goes_back_by_itself_when_nobody_touches_it(table, page_at, log_in):
    """The browser's clock is moved by hand: typing holds the page, leaving it alone does not."""
    tablet = page_at(768)
    become_a_station(tablet, table, log_in)
    tablet.get_by_role("button", name="Make it a station").click()
    expect(tablet.get_by_role("heading", name="Glaze table")).to_be_visible()
    tablet.wait_for_load_state("networkidle")
    # Only `run_for` moves it from here on, however long this machine takes.
    tablet.clock.install()
    tablet.clock.pause_at(time.time() + 60)
    seconds = Studio.current().station_locks_after_seconds
    tablet.goto(f"/station/step-up/?next=/b/{table['ash'].bucket.code}/flag")
    give_pin(tablet, "Wren Alder")
    tablet.wait_for_url(re.compile(r"/flag$"))  # loaded, so that its script counts
    note = tablet.locator("[name=note]")
    note.fill("It smells")
    tablet.clock.run_for((seconds - 5) * 1000)
    with tablet.expect_response("**/station/here/"):
        note.press_sequentially("!")
    tablet.clock.run_for((seconds - 5) * 1000)
    expect(note).to_have_value("It smells!")
    tablet.clock.run_for(10_000)
    tablet.wait_for_url(re.compile(r"/station/$"), wait_until="networkidle")
    tablet.goto("/shelf/")
    expect(tablet.get_by_role("heading", name="Who is it?")).to_be_visible()
