"""When a kiln will have cooled, on Today and the firing's page: never as permission, never of one that is over."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone

from studio.models import Studio
from studio.today import due_for
from tests import make
from tests.reading import text_of
from tests.tiles.counting import queries
from tests.tiles.kiln_history import climbed, cooling
from tiles import actions
from tiles.cooling_now import cooling_now
from tiles.cooling_words import cooling_words
from tiles.models import Firing, FiringLog

NOT_LEAVE = "a forecast from the readings, not leave to open; the manual of the kiln comes first"


@pytest.fixture
def kiln(db):
    make.studio()
    return make.kiln("By the door")


@pytest.fixture
def browser(client, people):
    client.force_login(people["member"])
    return client


def page(browser, firing):
    return text_of(browser.get(f"/firings/{firing.number}/"))


def group(person):
    return next((g for g in due_for(person) if g.kind == "cooling"), None)


def test_both_pages_say_when_and_that_it_is_no_leave(browser, people, kiln):
    firing = cooling(kiln)
    seconds, celsius = climbed(1222)
    passes = seconds[celsius.argmax() :][celsius[celsius.argmax() :] <= 50][0]
    found = cooling_now([firing])[0]
    assert found.low_at < firing.log.begins_at + timedelta(seconds=int(passes)) < found.high_at
    words = group(people["member"]).items[0].words
    assert "expected at 50\xa0°C about " in words
    assert words.endswith(NOT_LEAVE)
    for shown in (page(browser, firing), text_of(browser.get("/"))):
        assert NOT_LEAVE in shown.replace("A forecast", "a forecast")
        assert "expected at 50 °C" in shown.replace("Expected", "expected")
    assert "not above 120 °C: a maker of kilns" in page(browser, firing)
    assert "Thermal shock" in page(browser, firing)


def test_it_stands_before_the_curve_and_each_part_can_be_jumped_to(browser, kiln):
    html = browser.get(f"/firings/{cooling(kiln).number}/").content.decode()
    assert 0 < html.index('id="cooling"') < html.index('id="plan"')
    jumps = re.findall(r'href="#([\w-]+)"', html.partition('jumps"')[2].partition("</nav>")[0])
    assert {"plan", "cones", "log", "energy"} <= set(jumps)
    assert [name for name in jumps if f'id="{name}"' not in html] == []


def test_whoever_unloads_reads_first_how_hot_it_was(client, people, kiln):
    client.force_login(people["technician"])
    firing = cooling(kiln, until_c=400)
    asked = text_of(client.get(f"/firings/{firing.number}/move/?state=unloaded"))
    assert "the manual of the kiln comes first" in asked
    read = re.search(r"It read (\d+)\s°C", asked)
    assert read
    assert 390 < int(read[1]) < 410
    assert "Thermal shock" in asked


def test_the_moment_is_the_studios_and_the_degrees_are_the_persons(browser, people, kiln, monkeypatch):
    firing = cooling(kiln)
    Studio.objects.update(time_zone="Pacific/Auckland", opening_c=60)
    people["member"].temperature_unit = "f"
    people["member"].save()
    shown = page(browser, firing)
    assert "Expected at 140 °F about" in shown
    with timezone.override("Pacific/Auckland"):
        found = cooling_now([firing])[0]
        words = cooling_words(found)
    assert words.partition(" about ")[2] in shown


@pytest.mark.parametrize("state", ["planned", "unloaded", "stopped"])
def test_a_firing_that_is_not_hot_shows_nothing_of_it(browser, people, kiln, state):
    firing = cooling(kiln)
    Firing.objects.filter(pk=firing.pk).update(state=state)
    assert "forecast" not in page(browser, firing)
    assert group(people["member"]) is None


def test_a_kiln_that_still_climbs_shows_nothing_of_it(browser, people, kiln):
    firing = cooling(kiln, until_c=1215)
    assert "forecast" not in page(browser, firing)
    assert group(people["member"]) is None


def test_what_stopped_is_said_and_later_it_waits_to_be_unloaded(people, kiln):
    firing = cooling(kiln, late_s=3 * 3600)
    words = group(people["technician"]).items[0].words
    assert words.startswith("No forecast: the readings stopped at ")
    FiringLog.objects.filter(firing=firing).update(begins_at=firing.log.begins_at - timedelta(days=2))
    kinds = {g.kind for g in due_for(people["technician"])}
    assert "cooling" not in kinds
    assert "unload" in kinds


def test_a_log_without_a_clock_is_told_to_have_no_forecast_for_a_day(browser, people, kiln):
    firing = cooling(kiln, begins=False)
    words = "No forecast: the log says how long, not when."
    assert words in group(people["technician"]).items[0].words
    assert words in page(browser, firing)
    FiringLog.objects.filter(firing=firing).update(created_at=timezone.now() - timedelta(hours=25))
    kinds = {g.kind for g in due_for(people["technician"])}
    assert kinds & {"cooling", "unload"} == {"unload"}


def test_a_dead_thermocouple_does_not_call_a_hot_kiln_cold(browser, people, kiln):
    from tiles.calc.readings import pack, unpack

    firing = cooling(kiln, until_c=700)
    seconds, celsius = unpack(firing.log.readings)
    celsius[-4:] = 22
    FiringLog.objects.filter(firing=firing).update(readings=pack(seconds, celsius), last_c=22)
    words = group(people["member"]).items[0].words
    assert "A broken thermocouple reads cold in a hot kiln" in words
    assert "expected" not in words
    assert "xpected at" not in page(browser, firing)


def test_each_firing_is_told_once(people, kiln):
    cooling(kiln)
    kinds = [g.kind for g in due_for(people["technician"])]
    assert kinds.count("cooling") == 1
    assert "unload" not in kinds


def test_below_the_temperature_it_waits_to_be_unloaded(browser, people, kiln):
    Studio.objects.update(opening_c=100)
    firing = cooling(kiln, until_c=90)
    groups = {g.kind: g for g in due_for(people["technician"])}
    assert groups.keys() & {"cooling", "unload"} == {"unload"}
    assert "found it cool yourself" in str(groups["unload"].act)
    shown = page(browser, firing)
    assert "That is a reading, not leave to open" in shown
    # Where there is no forecast, none is spoken of.
    assert "That is not leave to open either" in shown
    assert NOT_LEAVE not in shown.replace("A forecast", "a forecast")


def test_more_kilns_cool_in_the_same_queries(browser, people):
    make.studio()
    counted = []
    for more in (1, 3):
        for _n in range(more):
            cooling(make.kiln())
        counted.append(queries(browser, "/"))
    assert counted[0] == counted[1]


def test_a_worn_part_is_told_to_technicians_at_the_kilns_own_number(people, kiln):
    actions.change_kiln(by=people["manager"], obj=kiln, values={"elements_last": 2})
    for n in (1, 2):
        make.fire(make.firing(kiln), witness=[{"cone": make.cone("6"), "bend_degrees": 90}])
        worn = [g for g in due_for(people["technician"]) if g.kind == "worn"]
        assert bool(worn) is (n == 2)
    assert worn[0].items[0].words == "elements: 2 firings, reminder at 2"
    assert not [g for g in due_for(people["member"]) if g.kind == "worn"]
    today = timezone.localdate() + timedelta(days=0)
    actions.note_part_change(by=people["manager"], kiln=kiln, part="elements", changed_on=today)
    Firing.objects.update(started_at=timezone.now() - timedelta(days=2))
    assert not [g for g in due_for(people["technician"]) if g.kind == "worn"]
