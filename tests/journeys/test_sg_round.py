"""Twenty buckets on a phone with nothing typed but numbers and Enter, and what each of them wants at the end."""

from decimal import Decimal

import pytest
from playwright.sync_api import expect
from rest_framework.test import APIClient

from inventory import actions as shelf
from inventory.models import Reading, SgRound
from tests import make

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

ALLOWED = set("0123456789.") | {"Enter"}
# Kept where it outlives the page: Enter leaves it.
WATCH = """
const pressed = (what) => sessionStorage.setItem("pressed", (sessionStorage.getItem("pressed") ?? "") + what + " ");
document.addEventListener("keydown", (event) => pressed(event.key), true);
document.addEventListener("pointerdown", () => pressed("finger"), true);
"""
# Cup of 100 mL, empty 40 g; half of 20 L in each; wanted 1.44 to 1.50.
WEIGHTS = ["187", "195", "180", "186.5"] * 5


@pytest.fixture
def walker():
    make.studio()
    make.person("manager")
    return make.person("member", name="Piet Lock")


def fill_shelf(count):
    """The last bucket of the walk holds the 16.8 L of the published case (c)."""
    board = shelf.create_place(by=make.manager(), name="Long board", order=1)
    back = shelf.create_place(by=make.manager(), name="Far board", order=2)
    for n in range(1, count):
        glaze = make.glaze(f"Glaze {n}", sg_low=Decimal("1.44"), sg_high=Decimal("1.50"))
        make.fill(glaze, bucket_=make.bucket(place=board, capacity_ml=20000), level="half")
    slip = make.glaze("Altmann Slip", sg_low=Decimal("1.74"), sg_high=Decimal("1.76"))
    last = make.fill(slip, bucket_=make.bucket(place=back, capacity_ml=20000))
    shelf.add_stock_entry(by=make.manager(), fill=last, kind="level", volume_ml=Decimal(16800))


def begin(page, ml="100", g="40"):
    page.goto("/round/")
    page.get_by_label("The cup holds (mL)").fill(ml)
    page.get_by_label("The empty cup weighs (g)").fill(g)
    page.get_by_role("button", name="Start the round").click()
    page.wait_for_url("**/round/*-*/")


def test_twenty_buckets_with_numbers_and_enter_alone(walker, page_at, log_in, shot):
    fill_shelf(20)
    page = page_at(390)
    log_in(page, walker)
    begin(page)
    page.add_init_script(WATCH)
    page.reload()
    typed = [*WEIGHTS[:19], "190"]
    for n, weight in enumerate(typed, start=1):
        expect(page.locator(".progress")).to_contain_text(f"Bucket {n} of 20")
        expect(page.locator("[name=gross_g]")).to_be_focused()
        page.keyboard.type(weight)
        page.keyboard.press("Enter")
        if n < 20:
            page.wait_for_url(f"**?done={n}")
        if n == 2:
            expect(page.locator(".record")).to_contain_text("of water to reach 1.47")
            shot(page, "round-answer")
    expect(page.locator("h1")).to_have_text("The round is finished")
    pressed = page.evaluate("sessionStorage.getItem('pressed')").split()
    assert "".join(key for key in pressed if key != "Enter") == "".join(typed)
    assert set(pressed) <= ALLOWED
    assert pressed.count("Enter") == 20

    expect(page.locator(".record")).to_contain_text(
        "Take about 5.6 L of clear water off the top to reach 1.75."
    )
    page.goto(page.get_by_role("link", name="What each bucket wants").get_attribute("href"))
    rows = page.locator(".round-table tbody tr")
    expect(rows).to_have_count(20)
    # 10 L: 0.08 / 0.47 of it is 1702 mL in, 0.07 / 0.47 is 1489 mL out (inventory/calc/slurry.py, volumes add).
    for n, wanted in enumerate(
        ["nothing", "add 1.7 L of water", "take 1.5 L of water off the top", "nothing"]
    ):
        expect(rows.nth(n)).to_contain_text(wanted)
    expect(rows.nth(19)).to_contain_text("take 5.6 L of water off the top")
    shot(page, "round-summary")
    assert Reading.objects.count() == 20
    assert SgRound.objects.get().finished_at is not None

    # The calculator says the same of the published case: S. Altmann, http://www.potters.org/subject13664.htm
    api = APIClient()
    api.force_login(walker)
    said = {"mass_g": 150, "volume_ml": 100, "bucket_volume_ml": 16800, "target_specific_gravity": "1.75"}
    reckoned = api.post("/api/v1/calc/slurry/", said, format="json").json()
    assert reckoned["water_to_add_ml"] == pytest.approx(-5600)


def test_without_javascript_and_with_a_bucket_passed_over(walker, page_at, log_in):
    fill_shelf(3)
    page = page_at(390, javascript=False)
    log_in(page, walker)
    begin(page, g="0")
    page.get_by_role("button", name="being used").click()
    expect(page.locator(".progress")).to_contain_text("Bucket 2 of 3")
    page.locator("[name=gross_g]").fill("15")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("15 g cannot be right")
    expect(page.locator("[name=gross_g]")).to_have_value("15")
    page.locator("[name=gross_g]").fill("147")
    page.keyboard.press("Enter")
    page.locator("[name=gross_g]").fill("175")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("Every bucket was reached")
    page.locator("main .links a").first.click()
    expect(page.locator(".progress")).to_contain_text("Bucket 1 of 3")
    page.locator("[name=gross_g]").fill("147")
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text("The round is finished")
