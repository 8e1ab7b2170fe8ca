"""A kiln operator with the controller's file: it is read, one guess is put right, it is kept, and a cone is said."""

import pytest
from playwright.sync_api import expect

from tests import make
from tests.tiles.log_files import f, readings, table
from tiles.models import FiringLog

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.mark.parametrize(("width", "javascript"), [(390, True), (1280, False)])
def test_a_log_is_sent_put_right_and_kept(page_at, log_in, shot, tmp_path, width, javascript):
    make.studio()
    member = make.person("member", name="Mina Race")
    firing = make.fire(make.firing(target="6"))
    file = tmp_path / "kiln 4.csv"
    # The instrument was in °F and says so nowhere; only the first hours are in the file, so that no figure tells.
    file.write_text(table(lambda s, c: f"{s};{f(c)};{f(c) + 3}", head="s;PV;SP\n", rows=readings(290)))

    page = page_at(width, javascript=javascript)
    log_in(page, member)
    page.goto(firing.get_absolute_url())
    page.get_by_role("link", name="Send a log").click()
    page.get_by_label("The controller's log").set_input_files(file)
    page.get_by_role("button", name="See how it is read").click()

    expect(page.get_by_text("Nothing of it is kept yet.")).to_be_visible()
    expect(page.locator("main .facts").first).to_contain_text("1368 °C")
    expect(page.locator(".log-sketch polyline")).to_have_count(1)
    shot(page, "log-read")
    page.get_by_label("It is in", exact=True).select_option(label="°F")
    page.get_by_role("button", name="Read it like this").click()
    expect(page.locator("main .facts").first).to_contain_text("742 °C")
    assert FiringLog.objects.count() == 0

    page.get_by_role("button", name="Keep this log").click()
    expect(page.get_by_text("290 readings are kept.")).to_be_visible()
    expect(page.locator("#log")).to_contain_text("Cone by the log")
    expect(page.locator("#log .facts")).to_contain_text("cone 0")
    shot(page, "firing-log")
    assert page.evaluate("document.documentElement.scrollWidth") == width
    log = FiringLog.objects.get()
    assert (log.count, log.cone is not None) == (290, True)
