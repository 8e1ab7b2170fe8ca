"""What the manager may set for the whole studio."""

import pytest

from studio.forms import PUBLISHED_OPENING_C, OpeningField
from studio.models import Change, Studio
from tests import make
from tiles.calc.opening import published

SETTINGS = "/settings/"
SENT = {
    "version": "1",
    "name": "Millrace & Co",
    "time_zone": "Europe/Dublin",
    "language": "en",
    "temperature_unit": "f",
    "units": "us",
    "sg_stale_after_days": "14",
    "station_locks_after_seconds": "60",
    "opening_c": "60",
    "price_per_kwh": "0.3120",
    "currency": "EUR",
}


@pytest.fixture
def browser(manager, client):
    client.force_login(manager)
    return client


def test_everything_that_was_set_is_stored_shown_and_written_down(browser):
    page = browser.post(SETTINGS, SENT, follow=True)
    studio = Studio.objects.get()
    stored = {name: str(getattr(studio, name)) for name in SENT}
    assert stored == {**SENT, "version": "2"}
    assert studio.bucket_pages_open is False, "a box without a tick is off"
    assert "Millrace &amp; Co" in page.content.decode()
    assert Change.objects.get().after["sg_stale_after_days"] == 14


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "x" * 121}, "at most 120 characters"),
        ({"time_zone": "Dublin"}, "Dublin is not a time zone: write one such as Europe/Dublin."),
        ({"time_zone": "../etc"}, "is not a time zone"),
        ({"language": "xx"}, "xx is not one of the available choices"),
        ({"temperature_unit": "k"}, "k is not one of the available choices"),
        ({"units": ""}, "This field is required."),
        ({"sg_stale_after_days": "0"}, "greater than or equal to 1"),
        ({"sg_stale_after_days": "366"}, "less than or equal to 365"),
        ({"sg_stale_after_days": "a month"}, "Enter a whole number."),
        ({"station_locks_after_seconds": "14"}, "greater than or equal to 15"),
        ({"station_locks_after_seconds": "901"}, "less than or equal to 900"),
        ({"opening_c": "29"}, "Choose from 30"),
        ({"opening_c": "205"}, "to 204"),
        ({"opening_c": ""}, "This field is required."),
        ({"price_per_kwh": "-0.1"}, "greater than or equal to 0"),
        ({"price_per_kwh": "cheap"}, "Enter a number."),
        ({"currency": "too many letters"}, "at most 8 characters"),
        ({"version": "x"}, "Enter a whole number."),
    ],
)
def test_bad_input_is_said_and_kept(browser, typed, sentence):
    sent = {**SENT, **typed}
    html = browser.post(SETTINGS, sent).content.decode()
    assert sentence in html
    for name in ("time_zone", "sg_stale_after_days"):
        assert f'value="{sent[name]}"' in html
    assert Studio.objects.get().version == 1
    assert not Change.objects.exists()


def test_the_opening_temperature_is_typed_and_shown_in_the_managers_own_unit(browser, manager):
    manager.temperature_unit = "f"
    manager.save()
    page = browser.post(SETTINGS, {**SENT, "opening_c": "122"}, follow=True).content.decode()
    assert Studio.objects.get().opening_c == 50
    assert 'name="opening_c" value="122"' in page
    assert "below (°F)" in page
    assert "from 199\xa0°F to 399\xa0°F" in page
    for typed in ("60", "401", "9" * 400):
        refused = browser.post(SETTINGS, {**SENT, "version": "2", "opening_c": typed}).content.decode()
        assert "Choose from 86\xa0°F to 399\xa0°F." in refused
        assert f'name="opening_c" value="{typed}"' in refused


def test_the_figures_named_beside_the_opening_temperature_are_the_published_ones():
    figures = published()
    makers = [one.celsius for one in figures if one.who.endswith("kiln_maker")]
    said = (figures[0].celsius, figures[-1].celsius, min(makers))
    assert tuple(PUBLISHED_OPENING_C[name] for name in ("low", "high", "maker")) == said
    # As a stored figure's limit, too.
    assert PUBLISHED_OPENING_C["high"] == OpeningField.HIGHEST_C
    limits = {one.limit_value for one in Studio._meta.get_field("opening_c").validators}
    assert {OpeningField.LOWEST_C, OpeningField.HIGHEST_C} <= limits


def test_a_price_may_have_a_comma_and_comes_back_as_it_was_said(browser):
    browser.post(SETTINGS, {**SENT, "price_per_kwh": "0,31"})
    assert str(Studio.objects.get().price_per_kwh) == "0.3100"
    assert 'value="0.31"' in browser.get(SETTINGS).content.decode()


def test_who_comes_second_sees_both_and_can_choose(browser):
    browser.post(SETTINGS, {**SENT, "name": "Theirs", "units": "metric", "bucket_pages_open": "on"})
    late = browser.post(SETTINGS, {**SENT, "name": "Mine <b>"})
    html = late.content.decode()
    assert late.status_code == 409
    assert "<td>Mine &lt;b&gt;</td><td>Theirs</td>" in html
    assert "<td>ounces and US gallons</td><td>grams and litres</td>" in html
    assert "<td>no</td><td>yes</td>" in html
    assert Studio.objects.get().name == "Theirs"
    again = dict(late.context["typed"]) | {"version": late.context["error"].current}
    assert browser.post(SETTINGS, again).status_code == 302
    studio = Studio.objects.get()
    assert (studio.name, studio.units, studio.bucket_pages_open) == ("Mine <b>", "us", False)


def test_the_time_zone_is_the_clock_of_the_pages(browser, manager):
    make.glaze(by=manager)
    Change.objects.update(at="2026-01-05T23:30:00Z")
    browser.post(SETTINGS, {**SENT, "time_zone": "Pacific/Auckland"})
    assert "6 January 2026" in browser.get("/history/?kind=inventory.glaze").content.decode()
