"""A firing planned with a schedule: it keeps what it took over, and what is to be said of it with its load."""

import json

import pytest
from django.urls import reverse

from studio.errors import Refused
from tests import make
from tests.reading import text_of
from tests.tiles.curve_logs import logged
from tests.tiles.firing_forms import plan
from tiles import actions
from tiles.calc.schedule import path, segments_of
from tiles.models import Firing
from tiles.predicting import predict

pytestmark = pytest.mark.django_db
HOT = [{"rate_c_per_h": 60, "to_c": 1290, "hold_min": 15}]
FAST = [{"rate_c_per_h": None, "to_c": 1222, "hold_min": 15}]


def on_page(client, firing):
    return text_of(client.get(reverse("tiles:firing", args=[firing.number]))).replace("\u00a0", " ")


def test_what_was_planned_stays_when_the_schedule_changes(tech, manager):
    schedule = make.schedule("Glaze to 6")
    tech.post(reverse("tiles:firing-new"), plan(make.kiln(), plan_from=schedule.pk))
    firing = Firing.objects.get()
    assert (firing.plan, firing.plan_name) == (make.SEGMENTS, "Glaze to 6")
    actions.change_schedule(by=manager, obj=schedule, values={"segments": HOT, "name": "Hotter"})
    firing.refresh_from_db()
    assert (firing.plan, firing.plan_name) == (make.SEGMENTS, "Glaze to 6")
    shown = on_page(tech, firing)
    for words in ("As taken over from Glaze to 6", "60 °C/h to 1222 °C, hold 5 minutes", "cone 6, "):
        assert words in shown
    # Leaving the choice alone keeps the plan; choosing takes it over anew.
    edit = reverse("tiles:firing-edit", args=[firing.number])
    assert "as it is" in text_of(tech.get(edit))
    tech.post(edit, plan(firing.kiln, plan_from="", version=firing.version))
    firing.refresh_from_db()
    assert firing.plan == make.SEGMENTS
    tech.post(edit, plan(firing.kiln, plan_from=schedule.pk, version=firing.version))
    firing.refresh_from_db()
    assert (firing.plan, firing.plan_name) == (HOT, "Hotter")


def test_from_a_schedule_the_plan_begins_with_it(tech):
    schedule = make.schedule(kind="bisque", target="04")
    page = tech.get(reverse("tiles:firing-new"), {"schedule": schedule.pk})
    form = page.context["form"]
    assert (form["plan_from"].value(), form["kind"].value()) == (schedule.pk, "bisque")
    for odd in ("x", "", "00000000-0000-0000-0000-000000000000"):
        assert tech.get(reverse("tiles:firing-new"), {"schedule": odd}).status_code == 200


def test_a_plan_is_judged_with_kiln_and_load(tech, manager):
    matte = make.glaze("Sluice Matte", surface="matte")
    cool = make.glaze("Low Fire Red", low="06", high="04")
    firing = make.firing(make.kiln(highest="8"), plan_from=make.schedule(segments=HOT))
    for glaze in (matte, cool):
        tile = make.tile(layers=[{"glaze": glaze}])
        actions.load_tile(by=manager, firing=firing, tile=tile)
    shown = on_page(tech, firing)
    assert "hotter than the kiln's highest cone ends: cone 8 (1249 °C)" in shown
    assert "Low Fire Red is meant for cone 06 (998 °C) to cone 04 (1063 °C). Hotter than meant" in shown
    assert "Sluice Matte is expected to be matte, and nothing here cools slowly" in shown
    codes = {
        said["code"]
        for said in tech.get(reverse("api-firings-curve", args=[firing.pk])).json()["plan"]["findings"]
    }
    assert {
        "segment_above_kiln",
        "predicted_outside_glaze",
        "no_slow_cooling",
        "predicted_off_target",
    } <= codes
    make.fire(firing)
    assert "nothing here cools slowly" not in on_page(tech, firing)


def test_what_a_private_tile_carries_is_told_to_nobody_else(client, manager, people):
    secret = make.tile(layers=[{"glaze": make.glaze("Secret Matte", surface="matte")}], visibility="mine")
    firing = make.firing(plan_from=make.schedule())
    actions.load_tile(by=manager, firing=firing, tile=secret)
    for role, sees in (("manager", True), ("member", False)):
        client.force_login(people[role])
        assert ("Secret Matte" in on_page(client, firing)) is sees
        answer = client.get(reverse("api-firings-curve", args=[firing.pk])).content.decode()
        assert ("Secret Matte" in answer) is sees


def test_as_fast_as_it_goes_is_the_kilns_own_once_it_has_a_log(tech):
    kiln = make.kiln()
    firing = make.firing(kiln, plan_from=make.schedule(segments=FAST))
    assert "taken as 200 °C/h, which is an assumption: this kiln has no log yet" in on_page(tech, firing)
    slower = [{"rate_c_per_h": 300, "to_c": 1000}, {"rate_c_per_h": 60, "to_c": 1222, "hold_min": 5}]
    logged(make.firing(kiln, plan=slower))
    assert "taken as 300 °C/h at first and 60 °C/h near the top" in on_page(tech, firing)
    # Not as slowly all the way as at the end of that firing.
    found = predict(FAST, kiln)
    assert found.minutes == pytest.approx(
        path(segments_of(FAST), pace=((1000, 300), (1400, 60)))[0][-1], rel=0.01
    )


def call(client, method, name, body, *args, **headers):
    send = getattr(client, method)
    return send(reverse(name, args=args), json.dumps(body), content_type="application/json", headers=headers)


def test_the_api_plans_with_a_schedule_or_with_segments_of_its_own(tech):
    schedule, kiln = make.schedule("Glaze to 6"), make.kiln()
    new = {"kiln": str(kiln.pk), "target_cone": "6"}
    made = call(tech, "post", "api-firings-list", {**new, "plan_from": str(schedule.pk)}).json()
    assert (made["plan"], made["plan_name"]) == (make.SEGMENTS, "Glaze to 6")
    own = call(
        tech, "patch", "api-firings-detail", {"plan": HOT}, made["id"], **{"If-Match": str(made["version"])}
    ).json()
    assert (own["plan"], own["plan_name"]) == (HOT, "")
    none = call(
        tech, "patch", "api-firings-detail", {"plan": []}, made["id"], **{"If-Match": str(own["version"])}
    ).json()
    assert none["plan"] == []
    for bad, field in (
        ({"plan": HOT, "plan_from": str(schedule.pk)}, "plan"),
        ({"plan": [{"to_c": 9000}]}, "plan"),
        ({"plan": [{"to_c": 900, "cone": "6"}]}, "plan"),
        ({"plan_from": "06"}, "plan_from"),
    ):
        answer = call(tech, "post", "api-firings-list", {**new, **bad})
        assert answer.status_code == 400
        assert field in answer.content.decode()


def test_a_schedule_that_was_put_away_plans_nothing_new(manager):
    schedule = make.schedule()
    actions.archive_schedule(by=manager, obj=schedule)
    with pytest.raises(Refused, match="put away"):
        make.firing(plan_from=schedule)


@pytest.mark.parametrize("field", ["rate_c_per_h", "to_c", "hold_min"])
def test_true_is_no_number_of_a_segment(tech, field):
    new = {"kiln": str(make.kiln().pk), "target_cone": "6", "plan": [{**HOT[0], field: True}]}
    answer = call(tech, "post", "api-firings-list", new)
    assert answer.status_code == 400
    assert "valid number" in answer.content.decode()
