"""The page of a kiln: what its shelves do, what to set, its history, its parts; for everybody who logs in."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from studio.errors import Refused
from studio.models import Studio
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tests.tiles.kiln_history import fired
from tiles import actions
from tiles.kiln_advice import load_limits
from tiles.kiln_truth import KilnTruth

TRUE = {"top": 9, "middle": -6, "bottom": -15}


@pytest.fixture
def kiln(db):
    return make.kiln("By the door", thermocouple="k_standard")


@pytest.fixture
def member_client(client, people):
    client.force_login(people["member"])
    return client


def address(kiln, **query):
    return reverse("tiles:kiln", args=[kiln.pk], query=query)


def test_without_history_it_says_so_and_how_it_is_learnt(member_client, kiln):
    shown = text_of(member_client.get(address(kiln)))
    assert "Nothing is known yet of how its shelves differ" in shown
    assert shown.count("not known yet") >= 3
    assert "Nothing is known of this shelf yet" in shown


def test_each_shelf_is_found_from_log_and_cones(kiln):
    for peak in (1222, 1217, 1228):
        fired(kiln, TRUE, peak_c=peak)
    truth = KilnTruth(kiln)
    assert [shelf.position for shelf in truth.shelves] == list(TRUE)
    for shelf in truth.shelves:
        assert shelf.low_c <= TRUE[shelf.position] <= shelf.high_c
        assert (shelf.firings, shelf.high_c - shelf.low_c < 20) == (3, True)


def test_what_counts_has_a_log_a_position_and_the_present_thermocouple(kiln, manager):
    fired(kiln, TRUE, days_ago=90)
    fired(kiln, {"": 0})
    fired(kiln, TRUE, log=False)
    assert KilnTruth(kiln).counted == 1
    actions.note_part_change(
        by=manager,
        kiln=kiln,
        part="thermocouple",
        changed_on=timezone.localdate() - timedelta(days=30),
    )
    truth = KilnTruth(kiln)
    assert truth.counted == 0
    assert [line.counts for line in truth.history] == [False, False, False]


def test_what_to_set_is_told_for_the_middle_and_for_what_is_asked(member_client, kiln):
    for _n in range(3):
        fired(kiln, TRUE)
    assert "To see cone 6 (1222 °C) on the shelf “middle”, set cone 6" in text_of(
        member_client.get(address(kiln))
    )
    # The top shelf is hotter: cone 6 there is less than cone 6 on the instrument.
    shown = text_of(member_client.get(address(kiln, cone="6", position="top")))
    assert "on the shelf “top”, set cone 5 (1186 °C) and" in shown
    assert "cooler" in shown
    assert "past cone 8" in text_of(member_client.get(address(kiln, cone="8", position="middle")))
    assert "There is no cone 15" in text_of(member_client.get(address(kiln, cone="15")))
    page = member_client.get(address(kiln, cone="6", position="attic"))
    assert page.context["form"].errors["position"]


def test_the_load_of_the_next_firing_sets_a_limit(member_client, kiln, manager):
    for _n in range(3):
        fired(kiln, TRUE)
    firing = make.firing(kiln)
    glaze = make.glaze("Weir Green", high="6")
    tile = make.tile(by=manager, layers=[{"glaze": glaze}], visibility="mine")
    actions.load_tile(by=manager, firing=firing, tile=tile)
    shown = text_of(member_client.get(address(kiln)))
    assert "past cone 6 (1222 °C), and a glaze on a tile that is kept private in the load" in shown
    assert "Weir Green" not in shown
    # A hotter shelf needs less on the instrument; then the top is named, which sees more than the glaze takes.
    assert "set cone" in text_of(member_client.get(address(kiln, cone="6", position="top")))
    shown = text_of(member_client.get(address(kiln, cone="5", position="bottom")))
    assert "The shelf “top” would then see about" not in shown


def test_a_glaze_that_has_been_melted_before_sets_a_limit_too_and_wax_none(kiln, people):
    """A refire melts it again."""
    tile = make.tile(layers=[{"glaze": make.glaze("Weir Green", high="6")}])
    make.fire(make.firing(kiln), tile)
    refire = make.firing(kiln, kind="refire", target="8")
    actions.load_tile(by=make.manager(), firing=refire, tile=tile)
    waxed = make.tile(layers=[{"glaze": make.glaze("Resist", kind="wax", low="06", high="1")}])
    actions.load_tile(by=make.manager(), firing=refire, tile=waxed)
    assert [(limit.cone.code, limit.whose) for limit in load_limits(refire, people["member"])] == [
        ("6", "Weir Green")
    ]


def test_the_clay_of_a_private_tile_sets_a_limit_without_its_name(kiln, people, manager):
    firing = make.firing(kiln)
    hidden = make.tile(by=manager, body=make.body("Hush Porcelain", high="6"), visibility="mine")
    shown = make.tile(by=manager, body=make.body("Weir Stoneware", high="7"))
    for tile in (hidden, shown):
        actions.load_tile(by=manager, firing=firing, tile=tile)
    limits = {limit.cone.code: limit.whose for limit in load_limits(firing, people["member"])}
    assert limits == {"6": "the clay of a tile that is kept private", "7": "Weir Stoneware"}


def test_in_fahrenheit_differences_are_not_moved_by_32(member_client, people, kiln):
    for _n in range(3):
        fired(kiln, {"middle": -10})
    people["member"].temperature_unit = "f"
    people["member"].save()
    middle = next(shelf for shelf in KilnTruth(kiln).shelves if shelf.position == "middle")
    assert f"{-middle.median_c * 1.8:.0f} °F cooler" in text_of(member_client.get(address(kiln)))


def test_parts_count_firings_anew_and_can_be_taken_back(tech, kiln):
    for days in (40, 5):
        fired(kiln, {"top": 0}, days_ago=days, log=False)
    page = address(kiln)
    assert "2 firings written down here" in text_of(tech.get(page))
    day = timezone.localdate() - timedelta(days=20)
    sent = {"part": "elements", "changed_on": day.isoformat(), "firings_before": "7", "version": kiln.version}
    tech.post(reverse("tiles:kiln-part", args=[kiln.pk]), sent)
    assert "8 firings since" in text_of(tech.get(page))
    change = kiln.part_changes.get()
    tech.post(reverse("tiles:kiln-part-back", args=[kiln.pk, change.pk]), {"reason": "another kiln"})
    assert "8 firings" not in text_of(tech.get(page))
    with pytest.raises(Refused):
        actions.take_part_change_back(by=make.manager(), part_change=change)


def test_a_part_is_not_put_in_tomorrow(kiln, manager):
    tomorrow = timezone.localdate() + timedelta(days=1)
    with pytest.raises(Refused) as refused:
        actions.note_part_change(by=manager, kiln=kiln, part="elements", changed_on=tomorrow)
    assert "in the future. Write it down when the part is in." in refused.value.problems["changed_on"][0]


def test_members_do_not_change_parts(kiln, people):
    with pytest.raises(NotAllowed):
        actions.note_part_change(
            by=people["member"], kiln=kiln, part="elements", changed_on=timezone.localdate()
        )


def test_energy_by_power_or_meter_with_its_price_and_share(member_client, kiln, manager):
    actions.change_kiln(by=manager, obj=kiln, values={"power_kw": Decimal(6), "duty_percent": 50})
    firing = fired(kiln, {"top": 0})
    # 20 to 1222 °C at 60 °C/h are 20 hours: 6 kW · 50 % · 20 h = 60 kWh, ±20 %.
    assert "about 60 kWh (48 to 72)" in text_of(member_client.get(address(kiln)))
    Studio.objects.update(price_per_kwh=Decimal("0.5"), currency="EUR")
    # Known no better than the kWh, it is said no finer; the ends are rounded, not cut off.
    shown = text_of(member_client.get(firing.get_absolute_url())).replace("\u00a0", " ")
    assert "about 30 EUR (24 to 36)" in shown
    member_client.post(reverse("tiles:firing-meter", args=[firing.number]), {"kwh_read": "55,5"})
    assert "55.5 kWh by the meter" in text_of(member_client.get(address(kiln)))


def test_more_history_asks_no_more_queries(member_client, kiln):
    make.firing(kiln)
    same_for_more(member_client, address(kiln), lambda n: [fired(kiln, {"top": 0}) for _ in range(n)])
