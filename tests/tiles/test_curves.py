"""The curve of a firing: what is drawn where, what a tapped moment says, the table, and the same over the API."""

import json
import re
from datetime import timedelta

import pytest
from django.urls import reverse

from inventory.calc.cones import celsius_at_60
from studio import units
from tests import make
from tests.reading import text_of
from tests.tiles.curve_logs import logged
from tiles.curve_drawings import NARROW, WIDE, draw
from tiles.curve_words import hourly, peak_words, said_at
from tiles.curves import firing_curve
from tiles.models import Firing, FiringEvent

pytestmark = pytest.mark.django_db
# 600 °C after 348 min, 1100 after 548, 1222 after 670, which is cone 6 at 60 °C/h (fixtures/cones.csv); then 5 min.
SIX = celsius_at_60(make.cone("6"))


@pytest.fixture
def fired():
    return logged(make.firing(plan_from=make.schedule()))


def on_page(client, firing):
    return text_of(client.get(reverse("tiles:firing", args=[firing.number]))).replace("\u00a0", " ")


def points(path):
    return [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)]


def test_the_cones_fall_where_the_published_end_points_are(fired):
    curve = firing_curve(fired)
    fell = {fall.cone.code: fall.minute for fall in curve.falls}
    # The climb of 60 °C/h passes the end point of cone 5 at 60 °C/h, and reaches cone 6's at its top.
    for code in ("5", "6"):
        there = 548 + (celsius_at_60(make.cone(code)) - 1100)
        assert fell[code] == pytest.approx(there, abs=6)
    assert list(fell.values()) == sorted(fell.values())
    assert "8" not in fell
    planned = {fall.cone.code: fall.minute for fall in curve.planned_falls}
    assert planned["6"] == pytest.approx(fell["6"], abs=4)


@pytest.mark.parametrize("paper", [NARROW, WIDE], ids=["narrow", "wide"])
def test_the_drawing_keeps_peak_ends_and_margins(fired, paper):
    curve = firing_curve(fired)
    drawing = draw(curve, paper, at_min=675)
    log, plan = points(drawing.log), points(drawing.plan)
    assert len(log) <= paper.points
    for line in (log, plan):
        assert all(
            paper.left <= x <= paper.plot_right and paper.top <= y <= paper.plot_bottom for x, y in line
        )
    assert log[0][0] == paper.left
    assert log[-1][0] == pytest.approx(paper.plot_right, abs=0.1)
    assert min(y for _x, y in log) == pytest.approx(min(y for _x, y in plan), abs=0.2)
    assert drawing.cursor == pytest.approx(paper.left + paper.plot_width * 675 / curve.end_min, abs=0.1)
    # Words beside a scale never run into each other.
    shown = [(tick.at, len(tick.words)) for tick in drawing.cones if tick.words]
    assert shown
    assert all(b - a >= (la + lb) * 4.5 for (a, la), (b, lb) in zip(shown, shown[1:], strict=False))
    hours = [tick.at for tick in drawing.hours]
    assert all(b - a >= paper.hour_gap for a, b in zip(hours, hours[1:], strict=False))


def test_a_gap_stays_a_gap_and_doubt_is_drawn_and_said():
    firing = logged(make.firing(plan_from=make.schedule()), without=[(200, 260)], dropped=[(400, 410)])
    curve = firing_curve(firing)
    assert {spell.code for spell in curve.spells} == {"gap", "dropout"}
    drawing = draw(curve, WIDE)
    assert drawing.log.count("M") == 2
    assert len(drawing.spells) == 2
    assert "no reading" in said_at(curve, 230)
    assert "25\u00a0°C, in doubt" in said_at(curve, 405)
    # The cones are reckoned without the drop-out.
    whole = firing_curve(logged(make.firing(plan_from=make.schedule())))
    assert [fall.cone for fall in curve.falls] == [fall.cone for fall in whole.falls]


def test_a_moment_is_read_in_the_persons_unit(fired):
    curve = firing_curve(fired)
    assert said_at(curve, 300).replace("\u00a0", " ") == "5:00: 520 °C, climbing 100 °C/h; plan 520 °C."
    with units.shown_as(temperature="f", amounts="metric"):
        assert said_at(curve, 300).replace("\u00a0", " ") == "5:00: 968 °F, climbing 180 °F/h; plan 968 °F."
        assert "2000" in [tick.words for tick in draw(curve, WIDE).degrees]
    assert "cone 6 is down" in said_at(curve, 675)
    assert [row.clock for row in hourly(curve)][:3] == ["0:00", "1:00", "2:00"]


def test_a_tap_is_answered_without_javascript(tech, fired):
    FiringEvent.objects.create(firing=fired, at=fired.started_at, words="Lid closed", by=make.manager())
    address = reverse("tiles:firing-curve", args=[fired.number])
    page = tech.get(address)
    html = page.content.decode()
    assert len(re.findall(r'href="\?at=\d+#curve" tabindex="-1"', html)) == NARROW.cells + WIDE.cells
    assert "Tap the drawing" in text_of(page)
    assert "Lid closed" in text_of(page)
    # On paper it says by itself of when it is, what was meant and what came of it.
    assert f"{fired.started_at:%B %Y}. By its plan, reckoned: cone 6, " in text_of(page)
    assert ". By its log: " in text_of(page)
    read = tech.get(address, {"at": "300"})
    assert "5:00: 520 °C" in text_of(read).replace("\u00a0", " ")
    assert "?at=285#curve" in read.content.decode()
    for odd in ("-1", "x", "1e9", "99999999999", "²"):
        assert tech.get(address, {"at": odd}).status_code == 200
    far = tech.get(address, {"at": "9999999"})
    assert "?at=1035#curve" in far.content.decode()
    steps = json.loads(re.search(r'data-steps="([^"]*)"', html)[1].replace("&quot;", '"'))
    assert (len(steps), steps[0][:5]) == (97, "0:00:")


def test_the_table_says_what_the_drawing_shows(tech, fired):
    shown = text_of(tech.get(reverse("tiles:firing", args=[fired.number]))).replace("\u00a0", " ")
    for words in ("5:00 520 °C 520 °C", "Hottest 1222 °C at", "When each cone went down", "Cone 6 (1222 °C)"):
        assert words in shown
    assert "<style" not in tech.get(reverse("tiles:firing", args=[fired.number])).content.decode()


def test_what_was_planned_stands_beside_what_was_reached(tech):
    """The plan: 1212 °C after 660 min, its top of 1222 after 670, its end after 675."""
    cooler = [*make.SEGMENTS[:-1], {**make.SEGMENTS[-1], "to_c": SIX - 30}]
    firing = logged(make.firing(plan_from=make.schedule(segments=cooler)))
    Firing.objects.filter(pk=firing.pk).update(plan=make.SEGMENTS)
    shown = on_page(tech, firing)
    assert "Hottest 1222 °C 1192 °C" in shown
    assert re.search(
        r"Within 10 °C of it after 11 h 10 h (29|30|31) min Within 10 °C of it for 15 min", shown
    )
    assert "At the plan's end, 1222 °C, after 11 h 15 min never so hot" in shown
    assert re.search(r"Cone cone 6, [^(]*\([^)]*\) cone 5, ", shown), shown
    # While it is fired, and no reading has come yet, what is to be expected is still said.
    without = make.fire(make.firing(plan_from=make.schedule()))
    assert "By reckoning: 11 h 15 min, cone 6, " in on_page(tech, without)


def test_what_happens_soon_after_the_log_is_drawn_and_a_day_later_is_not(fired):
    for minutes in (1100, 2600):  # plan and log end at 1035
        at = fired.started_at + timedelta(minutes=minutes)
        FiringEvent.objects.create(firing=fired, at=at, words="Lid opened", by=make.manager())
    curve = firing_curve(fired)
    assert (curve.end_min, len(curve.events)) == (pytest.approx(1100, abs=1), 2)
    assert [tick.at for tick in draw(curve, WIDE).events] == [pytest.approx(WIDE.plot_right, abs=0.5)]
    assert said_at(curve, 1090).startswith("18:10: no reading;")


def test_a_spike_is_not_the_hottest(tech):
    firing = logged(make.firing(plan_from=make.schedule()), spiked={500: 1500})
    assert "Hottest 1222 °C" in peak_words(firing_curve(firing)).replace("\u00a0", " ")


def test_a_firing_without_plan_and_log_has_nothing_to_draw(tech):
    firing = make.firing()
    assert "There is nothing to draw yet" in text_of(
        tech.get(reverse("tiles:firing-curve", args=[firing.number]))
    )
    assert 'id="curve"' not in tech.get(reverse("tiles:firing", args=[firing.number])).content.decode()


def test_the_api_gives_the_same_thinned(tech, fired):
    found = tech.get(reverse("api-firings-curve", args=[fired.pk]), {"points": "40"}).json()
    assert found["log"]["count"] > 1000
    assert len(found["log"]["points"]) <= 40
    assert max(celsius for _minute, celsius in found["log"]["points"]) == SIX
    assert found["plan"]["points"][0] == [0, 20]
    assert found["plan"]["points"][-1] == [675, SIX]
    assert found["plan"]["predicted"]["cone"] == "6"
    assert found["log"]["falls"][-1]["cone"] in ("6", "7")
    for points_ in ("7", "5001", "x", "-40", "²"):
        assert tech.get(reverse("api-firings-curve", args=[fired.pk]), {"points": points_}).status_code == 400
    assert tech.get(reverse("api-firings-curve", args=[fired.pk]), {"point": "40"}).status_code == 400
    assert tech.get(reverse("api-firings-curve", args=[make.firing().pk])).json()["log"] is None
