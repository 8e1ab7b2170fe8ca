"""The kiln operator reads a curve: by a tap without JavaScript, by pointer and arrow keys with it."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests import make
from tests.tiles.curve_logs import logged

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def address():
    make.studio()
    firing = logged(make.firing(plan_from=make.schedule()))
    return reverse("tiles:firing-curve", args=[firing.number])


def test_a_tap_without_javascript(page_at, log_in, address):
    page = page_at(390, javascript=False)
    log_in(page, make.person())
    page.goto(address)
    plot = page.locator(".narrow .cells").bounding_box()
    page.touchscreen.tap(plot["x"] + plot["width"] * 0.3, plot["y"] + plot["height"] / 2)
    page.wait_for_url("**at=*")
    # 1035 minutes are drawn; the fourth of twelve columns lies about 302.
    expect(page.locator(".readout")).to_have_text(re.compile(r"^5:02: 523\s°C, climbing"))
    page.get_by_role("link", name="Later").click()
    page.wait_for_url("**at=317*")
    expect(page.locator(".readout")).to_have_text(re.compile("^5:17"))
    drawing = page.locator(".narrow svg")
    shown_per_unit = drawing.bounding_box()["width"] / 320
    assert 16 * shown_per_unit >= 15
    assert page.evaluate("document.documentElement.scrollWidth") == 390


def test_pointer_and_arrow_keys(page_at, log_in, address):
    page = page_at(1280)
    log_in(page, make.person())
    page.goto(address)
    slider = page.get_by_role("slider")
    plot = slider.bounding_box()
    page.mouse.move(plot["x"] + plot["width"] / 2, plot["y"] + 100)
    readout = page.locator("#readout")
    expect(readout).to_have_text(re.compile("^8:38"))
    slider.focus()
    page.keyboard.press("ArrowRight")
    expect(readout).to_have_text(re.compile("^8:48"))
    assert slider.get_attribute("aria-valuetext") == readout.text_content()
    page.keyboard.press("Home")
    expect(readout).to_have_text(re.compile("^0:00"))
