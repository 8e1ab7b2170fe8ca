"""Schedules: rows without JavaScript, the person's own unit, the words of a refusal, and an old version."""

import re

import pytest
from django.urls import reverse

from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tests.tiles.schedule_forms import sent
from tiles import actions
from tiles.models import Schedule

LIST, NEW = "/schedules/", "/schedules/new/"
ROWS = [("100", "600", ""), ("", "1100", ""), ("60", "1205,5", "15"), ("", "", "")]


def typed(response):
    """What stands in the rows of the form."""
    rows = response.context["rows"]
    return [tuple(row[name].value() or "" for name in ("rate_c_per_h", "to_c", "hold_min")) for row in rows]


def test_rows_are_kept_in_their_order_and_an_empty_one_is_left_out(tech):
    response = tech.post(NEW, sent(*ROWS), follow=True)
    assert Schedule.objects.get().segments == [
        {"rate_c_per_h": 100, "to_c": 600, "hold_min": 0},
        {"rate_c_per_h": None, "to_c": 1100, "hold_min": 0},
        {"rate_c_per_h": 60, "to_c": 1205.5, "hold_min": 15},
    ]
    shown = text_of(response).replace("\u00a0", " ")
    for words in (
        "meant for cone 6 (1222 °C)",
        "100 °C/h to 600 °C",
        "as fast as it goes to 1100 °C",
        "hold 15 minutes",
        "which is an assumption",
        "cone 6, ",
    ):
        assert words in shown


def test_one_more_row_keeps_everything_typed_and_judges_nothing(tech):
    response = tech.post(NEW, sent(("fast", "600", ""), ("60", "", "x"), name="", more="1"))
    assert typed(response) == [("fast", "600", ""), ("60", "", "x"), ("", "", "")]
    assert "This field is required" not in text_of(response)
    assert not Schedule.objects.exists()
    full = tech.post(NEW, sent(*[("60", "600", "")] * 20, more="1"))
    assert len(typed(full)) == 20


def test_enter_in_a_row_keeps_the_schedule(tech):
    """A browser presses the first button of the form (HTML Standard, implicit submission)."""
    form = tech.get(NEW).content.decode().split('<form method="post">')[1].split("</form>")[0]
    first, *others = re.findall(r"<button[^>]*>", form)
    assert "name=" not in first
    assert any('name="more"' in button for button in others)


def test_one_more_row_does_not_forget_that_somebody_else_wrote_meanwhile(tech, manager):
    schedule = make.schedule()
    stale = schedule.version
    actions.change_schedule(by=manager, obj=schedule, values={"remark": "theirs"})
    address = reverse("tiles:schedule-edit", args=[schedule.pk])
    more = tech.post(address, sent(*ROWS, version=stale, more="1"))
    assert str(more.context["form"]["version"].value()) == str(stale)
    answer = tech.post(address, sent(*ROWS, remark="mine", version=stale))
    assert answer.status_code == 409
    assert {"mine", "theirs"} <= set(text_of(answer).split())


BAD = [
    ([], "at least one segment"),
    ([("60", "", "")], "Segment 1: say where it goes to"),
    ([("60", "2232", "")], "Segment 1: a target lies between 20 °C and 1400 °C. Is it in the right unit?"),
    ([("-60", "600", "")], "Segment 1: a rate lies between"),
    ([("60", "600", ""), ("60", "600", "")], "Segment 2 goes nowhere"),
    ([("slow", "600", "")], "Write the rate as a number"),
    ([("60", "nan", "")], "Write as a number where it goes to"),
    ([("1", "1300", ""), ("1", "20", ""), ("1", "1300", "")], "more than 14 days"),
]


@pytest.mark.parametrize(("rows", "words"), BAD, ids=[str(n) for n in range(len(BAD))])
def test_what_cannot_be_a_schedule_is_said_and_stays_typed(tech, rows, words):
    response = tech.post(NEW, sent(*rows, remark="mind the lid"))
    assert words in text_of(response).replace("\u00a0", " ")
    assert "mind the lid" in response.content.decode()
    assert typed(response) == rows
    assert not Schedule.objects.exists()


def test_what_is_taken_for_granted_is_said_of_what_it_is_taken_for(tech):
    response = tech.post(NEW, sent(("250", "1200", ""), ("", "1000", "")), follow=True)
    said = text_of(response).replace("\u00a0", " ")
    assert "to cool by itself is an assumption" in said
    assert "As fast as it goes" not in said
    assert "Slow down to 80 °C/h or less" in said
    # 4 h 43 min up and 1 h or 2 down: nobody knows the minute.
    assert "By reckoning: 6 h 45 min" in said


def test_every_row_that_is_wrong_says_so_at_once(tech):
    rows = [("fast", "600", ""), ("150", "12000", ""), ("", "", ""), ("60", "1222", "-5")]
    response = tech.post(NEW, sent(*rows))
    said = text_of(response).replace("\u00a0", " ")
    assert "3 segments need another look" in said
    for words in ("Write the rate as a number", "Segment 2: a target lies", "Segment 4: a hold lies"):
        assert words in said
    assert [row.number for row in response.context["rows"].wrong] == [1, 2, 4]


def test_who_reads_fahrenheit_writes_it_too(tech, technician):
    technician.temperature_unit = "f"
    technician.save()
    tech.post(NEW, sent(("108", "2232", "10")))
    schedule = Schedule.objects.get()
    assert schedule.segments == [{"rate_c_per_h": 60, "to_c": 1222.2, "hold_min": 10}]
    address = reverse("tiles:schedule-edit", args=[schedule.pk])
    page = tech.get(address)
    assert typed(page)[0] == ("108", "2232", "10")
    assert "To (°F)" in text_of(page)
    # Kept again as it stands, nothing creeps.
    tech.post(address, sent(("108", "2232", "10"), version=schedule.version))
    assert Schedule.objects.get().segments == schedule.segments
    assert "108 °F/h to 2232 °F" in text_of(tech.get(reverse("tiles:schedule", args=[schedule.pk]))).replace(
        "\u00a0", " "
    )


@pytest.mark.parametrize("celsius", [20, 573, 572.8, 1222.2, 1399.9])
def test_a_kept_row_comes_back_as_it_was_in_either_unit(celsius):
    from studio import units
    from tiles.forms.schedule import SegmentRows, shown

    row = {"rate_c_per_h": 83.3, "to_c": celsius, "hold_min": 12.5}
    for unit in "cf":
        with units.shown_as(temperature=unit, amounts="metric"):
            given = {f"segments-0-{name}": text for name, text in shown(row).items()}
            rows = SegmentRows(
                {"segments-TOTAL_FORMS": "1", "segments-INITIAL_FORMS": "0", **given}, prefix="segments"
            )
            assert rows.is_valid()
            assert rows.rows() == [row]


def test_put_away_it_leaves_the_list_and_the_choices_and_says_so(tech, technician):
    kept, away = make.schedule("Kept"), make.schedule("Away")
    tech.post(
        reverse("tiles:schedule-archive", args=[away.pk]), {"version": away.version, "reason": "too hot"}
    )
    assert [s.name for s in tech.get(LIST).context["rows"]] == [kept.name]
    assert [s.name for s in tech.get(LIST, {"archived": "true"}).context["rows"]] == [away.name]
    offered = tech.get(reverse("tiles:firing-new")).context["form"].fields["plan_from"].queryset
    assert [s.name for s in offered] == [kept.name]
    assert "This was put away" in text_of(tech.get(reverse("tiles:schedule", args=[away.pk])))
    assert Change.objects.get(object_id=away.pk, verb="archived").reason == "too hot"


def test_the_list_and_its_filter(tech):
    make.schedule("Bisque", kind="bisque", target="04"), make.schedule("Glaze")
    assert [s.name for s in tech.get(LIST, {"kind": "bisque"}).context["rows"]] == ["Bisque"]
    assert tech.get(LIST, {"kind": "raku"}).context["problems"]
    assert "by reckoning" in text_of(tech.get(LIST))


def test_only_technicians_and_managers_write_schedules(people):
    schedule = make.schedule()
    for act in (
        lambda by: actions.create_schedule(by=by, name="Another", segments=make.SEGMENTS),
        lambda by: actions.change_schedule(by=by, obj=schedule, values={"remark": "x"}),
        lambda by: actions.archive_schedule(by=by, obj=schedule),
    ):
        with pytest.raises(NotAllowed):
            act(people["member"])
        act(people["technician"])


def test_a_name_stands_once(tech):
    make.schedule("glaze TO 6")
    assert "There is a schedule of this name already" in text_of(tech.post(NEW, sent(*ROWS)))


def test_more_schedules_ask_no_more_queries(tech):
    same_for_more(tech, LIST, lambda n: [make.schedule() for _ in range(n)])


def test_the_history_says_the_segments_in_words(tech, manager):
    schedule = make.schedule(segments=[{"rate_c_per_h": 100, "to_c": 600, "hold_min": 15}])
    actions.change_schedule(by=manager, obj=schedule, values={"segments": [{"to_c": 900}]})
    shown = text_of(tech.get(reverse("studio:history-of", args=["tiles.schedule", schedule.pk])))
    assert "100 °C/h to 600 °C, hold 15 minutes as fast as it goes to 900 °C" in shown.replace("\u00a0", " ")
    firing = make.firing(plan_from=schedule)
    told = text_of(tech.get(reverse("studio:history-of", args=["tiles.firing", firing.pk])))
    assert "as fast as it goes to 900 °C" in told.replace("\u00a0", " ")
