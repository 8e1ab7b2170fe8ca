"""PINs: what is taken, and what a wrong one does."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from studio.actions import stations
from studio.actions.stations import set_pin, set_up_station, step_up
from studio.actions.tokens import issue_token, person_of_key
from studio.errors import Refused
from studio.models import Change, Pin
from studio.roles import NotAllowed
from tests import make


@pytest.fixture
def station(technician):
    return set_up_station(by=technician, name="Glaze table")[0]


@pytest.fixture
def clock(monkeypatch):
    """The action's clock, to be moved by hand: `clock(timedelta)`."""
    moment = [timezone.now()]
    monkeypatch.setattr(stations.timezone, "now", lambda: moment[0])
    return lambda step: moment.__setitem__(0, moment[0] + step)


@pytest.mark.parametrize("pin", ["407", "407140714", "40 71", "4o71", "١٢٣٧", "4071\n", ""])
def test_a_pin_is_four_to_eight_digits(member, pin):
    with pytest.raises(Refused, match="4 to 8 digits"):
        set_pin(by=member, pin=pin)


@pytest.mark.parametrize("pin", ["1111", "00000000", "1234", "3456789", "9876"])
def test_the_first_guesses_are_refused(member, pin):
    with pytest.raises(Refused, match="guessed at once"):
        set_pin(by=member, pin=pin)


@pytest.mark.parametrize("pin", ["1212", "2468", "8901", "0071"])
def test_other_digits_are_taken_and_never_stored_plain(member, station, pin):
    kept = set_pin(by=member, pin=pin)
    assert pin not in kept.hash
    assert step_up(station=station, person=member, pin=pin) == member
    assert pin not in str(Change.objects.filter(verb="set a PIN").values())


def test_the_account_page_sets_a_pin_and_never_shows_it(member, client, station):
    client.force_login(member)
    page = reverse("studio:account-pin")
    refused = client.post(page, {"pin": "4071", "again": "4017"})
    assert "The two are not the same" in refused.text
    assert not Pin.objects.exists()
    assert client.post(page, {"pin": "4071", "again": "4071"}).status_code == 302
    assert step_up(station=station, person=member, pin="4071") == member
    assert "4071" not in client.get(page).text
    assert "a new one takes its place" in client.get(page).text


def test_a_device_cannot_set_its_owners_pin_nor_issue_itself_a_key(technician):
    _token, key = issue_token(by=technician, name="kiosk", kind="device", scope="write")
    device, _token = person_of_key(key)
    with pytest.raises(NotAllowed):
        set_pin(by=device, pin="4071")
    with pytest.raises(NotAllowed):
        issue_token(by=device, name="a way out", scope="write")


def test_five_wrong_pins_put_it_to_sleep_for_ten_minutes(member, station, clock):
    set_pin(by=member, pin="4071")
    for _i in range(4):
        with pytest.raises(Refused, match=f"not the PIN of {member.name}"):
            step_up(station=station, person=member, pin="9999")
    with pytest.raises(Refused, match="Try again in 10 minutes"):
        step_up(station=station, person=member, pin="9999")
    clock(timedelta(minutes=9, seconds=30))
    with pytest.raises(Refused, match="Try again in 1 minute,"):
        step_up(station=station, person=member, pin="4071")
    clock(timedelta(seconds=31))
    assert step_up(station=station, person=member, pin="4071") == member


def test_a_right_pin_forgets_the_wrong_ones_before_it(member, station):
    set_pin(by=member, pin="4071")
    for _round in range(3):
        for _i in range(4):
            with pytest.raises(Refused, match="not the PIN"):
                step_up(station=station, person=member, pin="9999")
        step_up(station=station, person=member, pin="4071")


def test_each_person_has_wrong_pins_of_their_own(people, station):
    member, other = people["member"], people["other"]
    set_pin(by=member, pin="4071")
    set_pin(by=other, pin="5082")
    for _i in range(5):
        with pytest.raises(Refused):
            step_up(station=station, person=member, pin="5082")
    assert step_up(station=station, person=other, pin="5082") == other


def test_a_new_pin_wakes_a_sleeping_one(member, station):
    set_pin(by=member, pin="4071")
    for _i in range(5):
        with pytest.raises(Refused):
            step_up(station=station, person=member, pin="9999")
    set_pin(by=member, pin="6204")
    assert step_up(station=station, person=member, pin="6204") == member


def test_nobody_steps_up_without_a_pin_or_with_a_closed_account(member, station):
    with pytest.raises(Refused, match="no PIN for this name"):
        step_up(station=station, person=member, pin="")
    set_pin(by=member, pin="4071")
    member.is_active = False
    with pytest.raises(Refused, match="no PIN for this name"):
        step_up(station=station, person=member, pin="4071")


def test_two_open_stations_never_share_a_name(technician, station):
    with pytest.raises(Refused, match="a station of this name"):
        set_up_station(by=technician, name=" glaze TABLE ")
    stations.close_station(by=technician, station=station)
    set_up_station(by=technician, name="Glaze table")


def test_members_set_up_no_stations(member):
    with pytest.raises(NotAllowed):
        set_up_station(by=member, name="Glaze table")
    assert make.studio().station_locks_after_seconds == 90
