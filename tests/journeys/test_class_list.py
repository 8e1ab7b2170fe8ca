"""A guest class at the glaze table: a phone that is logged in nowhere opens the address on the paper."""

import pytest
from playwright.sync_api import expect

from inventory import actions as shelf
from inventory.models import ClassEntry
from tests import make

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
NAME = "Quillfeather"


@pytest.fixture
def lesson():
    """A list for children with one bucket that can be used and one that was flagged since."""
    make.studio()
    teacher = make.person("member", name=f"Zebedee {NAME}")
    technician = make.person("technician", name=f"Tabitha {NAME}")
    blue, green = make.glaze("Weir Blue", origin="bought"), make.glaze("Millrace Green", origin="bought")
    place = shelf.create_place(by=technician, name="Class shelf")
    facts = {"by": technician, "child_fit": "yes", "level": "full", "label": "none", "sg": "1.45"}
    good = make.fill(blue, bucket_=make.bucket(place=place), **facts)
    bad = make.fill(green, bucket_=make.bucket(place=place), **facts)
    made = make.class_list(good, bad, by=teacher, for_children=True, name="Saturday children")
    shelf.raise_flag(by=teacher, fill=bad, kind="contaminated", note=f"{NAME} saw a brush in it")
    return {"teacher": teacher, "list": made, "good": good}


@pytest.mark.parametrize("javascript", [True, False], ids=["with JavaScript", "without"])
def test_a_class_opens_its_page_logged_out_and_notes_what_it_used(lesson, page_at, shot, javascript):
    page = page_at(390, javascript=javascript)
    answer = page.goto(lesson["list"].page_path)
    assert answer.headers["referrer-policy"] == "no-referrer"
    expect(page.get_by_role("heading", name="Saturday children")).to_be_visible()
    cautions = page.get_by_text("Do not sweep or sand anything dry")
    lids = page.get_by_role("heading", name="What you can use")
    assert cautions.bounding_box()["y"] < lids.bounding_box()["y"]
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert NAME not in page.content()
    assert "Log in" not in page.content()
    barred = page.locator("section", has=page.get_by_role("heading", name="On the list, but not now"))
    expect(barred).to_contain_text("Millrace Green")
    shot(page, "class-page")

    # Half a form: what was typed is still there.
    page.get_by_label("How many pieces?").fill("30")
    page.get_by_role("button", name="Note it").click()
    expect(page.get_by_text("Choose the bucket that was used.")).to_be_visible()
    expect(page.get_by_label("How many pieces?")).to_have_value("30")
    shot(page, "class-page-refused")

    expect(page.locator("[name=fill]")).to_have_count(1)
    page.get_by_text(f"Weir Blue · {lesson['good'].bucket.code}").click()
    page.get_by_label("How many makers?").fill("12")
    page.get_by_label("About how much was used").fill("400")
    page.get_by_role("button", name="Note it").click()
    expect(page.get_by_text("12 makers. Thank you.")).to_be_visible()
    assert NAME not in page.content()
    shot(page, "class-page-noted")
    entry = ClassEntry.objects.get()
    assert (entry.makers, entry.pieces, entry.taken_ml) == (12, 30, 400)


def test_its_teacher_prints_the_address_and_closes_the_list(lesson, page_at, log_in, shot):
    page = page_at(1280)
    log_in(page, lesson["teacher"])
    page.goto(lesson["list"].get_absolute_url())
    shot(page, "class-list")
    page.get_by_role("link", name="Print address and cautions").click()
    expect(page.locator(".paper .qr")).to_be_visible()
    assert NAME not in page.locator(".paper").inner_html()
    page.goto(lesson["list"].get_absolute_url())
    page.get_by_role("link", name="Close this list").click()
    page.get_by_role("button", name="Close it").click()
    expect(page.get_by_text("Its address shows nothing any more.")).to_be_visible()
    lesson["list"].refresh_from_db()
    assert lesson["list"].closed_at is not None
