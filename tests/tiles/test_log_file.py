"""Files of many controllers, each read as what it is. The ways of writing are those in use: common practice."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tiles.log_files import PLAIN, START, comma, f, h_m_s, moment, read_as_guessed, readings, table
from tiles.calc.log_file import FiredWhen, read
from tiles.calc.log_guess import Guess, guess
from tiles.calc.log_text import text_of
from tiles.calc.log_thousands import ungrouped
from tiles.log_exports import log_lines
from tiles.logs import Readings

SECONDS, CELSIUS = map(np.array, zip(*readings(), strict=True))

BLOCK = "Controller 4, zone 1\nSerial;00123\nStart 2026-03-04 18:30\n\n"
# How it is written, and (delimiter, time kind, temperature's column, target's column, unit) of it.
WAYS = {
    "seconds, header": (PLAIN, ("comma", "seconds", 1, None, "c")),
    "no header, minutes": (table(lambda s, c: f"{s // 60},{c}"), ("comma", "minutes", 1, None, "c")),
    "no header, seconds, tab": (table(lambda s, c: f"{s}\t{c}"), ("tab", "seconds", 1, None, "c")),
    "hours with decimal comma": (
        table(lambda s, c: f"{comma(s / 3600)};{comma(c)}", head="Zeit h;Ist °C\n"),
        ("semicolon", "hours", 1, None, "c"),
    ),
    "ISO with a zone, target beside it": (
        table(lambda s, c: f"{moment(s).isoformat()},{c + 5},{c}", head="timestamp,target_temp_c,temp_c\n"),
        ("comma", "moment", 2, 1, "c"),
    ),
    "date and time with a space, elapsed too, many columns": (
        table(
            lambda s, c: f"{moment(s):%Y-%m-%d %H:%M:%S},{s},{c},{c + 3},55.0,RUNNING,Ramp 1,1,4,150",
            head="timestamp,elapsed_seconds,current_temp_c,target_temp_c,output_percent,state,step_name,step_index,"
            "total_steps,measured_rate_c_per_hour\n",
        ),
        ("comma", "moment", 2, 3, "c"),
    ),
    "unix seconds, runtime, °F": (
        table(
            lambda s, c: f"{1772649000 + s}.25,{s},{f(c)},{f(c) + 4},RUNNING,1,36000,cone 6",
            head="stamp,runtime,temperature,target,state,heat,totaltime,profile\n",
        ),
        ("comma", "unix", 2, 3, "f"),
    ),
    "unix milliseconds": (
        table(lambda s, c: f"{(1772649000 + s) * 1000},{c}"),
        ("comma", "unix", 1, None, "c"),
    ),
    "elapsed h:mm:ss, °F in the header": (
        table(lambda s, c: f"{h_m_s(s)},{f(c)}", head="Elapsed,Temp (°F)\n"),
        ("comma", "h_m_s", 1, None, "f"),
    ),
    "clock only, over midnight": (
        table(lambda s, c: f"{moment(s):%H:%M:%S};{comma(c)};{comma(c + 2)}", head="Uhr;Ist;Soll\n"),
        ("semicolon", "clock", 1, 2, "c"),
    ),
    "clock with am and pm": (
        table(lambda s, c: f"{moment(s):%I:%M:%S %p},{c}", head="Time,Reading C\n"),
        ("comma", "clock", 1, None, "c"),
    ),
    "day and clock apart, day first": (
        table(lambda s, c: f"{moment(s):%d.%m.%Y};{moment(s):%H:%M};{comma(c)}", head="Datum;Zeit;Temp\n"),
        ("semicolon", "clock", 2, None, "c"),
    ),
    "a block before the header, a line of units under it, words at the end": (
        table(
            lambda s, c: f"{s};{comma(c)};{comma(c + 1)}",
            head=BLOCK + "Time;Actual;Setpoint\ns;°C;°C\n",
            tail="End of log\n",
        ),
        ("semicolon", "seconds", 1, 2, "c"),
    ),
    "spaces": (
        table(lambda s, c: f"{moment(s):%Y-%m-%d %H:%M:%S}   {c}   RAMP"),
        ("space", "clock", 2, None, "c"),
    ),
    "units in the cells, quotes": (
        table(lambda s, c: f'"{h_m_s(s)}","{c} °C","on"'),
        ("comma", "h_m_s", 1, None, "c"),
    ),
    "milliseconds by their name": (
        table(lambda s, c: f"{s * 1000},{c}", head="time_ms,temp_c\n"),
        ("comma", "milliseconds", 1, None, "c"),
    ),
    "milliseconds without a name": (
        table(lambda s, c: f"{s * 1000},{c}"),
        ("comma", "milliseconds", 1, None, "c"),
    ),
    "unix nanoseconds": (
        table(lambda s, c: f"{(1772649000 + s) * 10**9},{c}"),
        ("comma", "unix", 1, None, "c"),
    ),
    "days of a spreadsheet": (
        table(lambda s, c: f"{46085.77 + s / 86400:.8f},{c}", head="Time,Temp\n"),
        ("comma", "days", 1, None, "c"),
    ),
    "minutes and seconds": (
        table(lambda s, c: f"{s // 60}:{s % 60:02},{c}", head="Elapsed,Temp\n"),
        ("comma", "m_s", 1, None, "c"),
    ),
    "hours and minutes": (
        table(lambda s, c: f"{s // 3600}:{s % 3600 // 60:02},{c}", head="Elapsed,Temp\n"),
        ("comma", "h_m_s", 1, None, "c"),
    ),
    "a month by its name": (
        table(lambda s, c: f"{moment(s):%d-%b-%Y %H:%M:%S},{c}", head="Time,Temp\n"),
        ("comma", "moment", 1, None, "c"),
    ),
    "a date without anything between": (
        table(lambda s, c: f"{moment(s):%Y%m%dT%H%M%S},{c}", head="Time,Temp\n"),
        ("comma", "moment", 1, None, "c"),
    ),
    "upright strokes": (table(lambda s, c: f"{s}|{c}", head="s|C\n"), ("pipe", "seconds", 1, None, "c")),
    "kelvin": (
        table(lambda s, c: f"{s},{c + 273.15:.2f}", head="s,Temp K\n"),
        ("comma", "seconds", 1, None, "k"),
    ),
    "a thermocouple of type K": (
        table(lambda s, c: f"{s},{c}", head="s,TC (K)\n"),
        ("comma", "seconds", 1, None, "c"),
    ),
    "thousands with a comma": (
        table(lambda s, c: f'"{s:,}","{c:,.1f}"', head="s,Temp C\n"),
        ("comma", "seconds", 1, None, "c"),
    ),
    "thousands with a point": (
        table(lambda s, c: f"{s};{f'{c:,.1f}'.translate(str.maketrans(',.', '.,'))}", head="s;Temp C\n"),
        ("semicolon", "seconds", 1, None, "c"),
    ),
    "target before the temperature, cold junction beside it": (
        table(lambda s, c: f"{s},{c + 9},24.5,{c}", head="t_s,set,cold junction temp,TC1 temp\n"),
        ("comma", "seconds", 3, 1, "c"),
    ),
}
ENCODINGS = ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "latin-1"]


def found(text: str):
    how, log = read_as_guessed(text)
    return (how.delimiter, how.time_kind, how.temperature, how.target, how.unit), log


@pytest.mark.parametrize("way", WAYS)
def test_each_way_is_read_as_what_it_is(way):
    text, expected = WAYS[way]
    said, log = found(text)
    assert said == expected
    assert log.seconds.tolist() == SECONDS.tolist()
    assert np.abs(log.celsius - CELSIUS).max() < 0.06  # °F to a tenth and back
    assert {one["code"] for one in log.marks} <= {"unread"}


@pytest.mark.parametrize("encoding", ENCODINGS)
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_it_does_not_matter_how_the_characters_are_written(encoding, newline):
    text = WAYS["hours with decimal comma"][0]
    raw = text.replace("\n", newline).encode(encoding)
    assert found(text_of(raw))[0] == ("semicolon", "hours", 1, None, "c")


def test_the_moment_of_the_first_reading():
    for way in ("ISO with a zone, target beside it", "day and clock apart, day first", "spaces"):
        log = found(WAYS[way][0])[1]
        assert log.begins == START.timestamp()
        assert log.has_zone is way.startswith("ISO")
    assert found(PLAIN)[1].begins is None
    assert found(WAYS["clock only, over midnight"][0])[1].clock == 18.5 * 3600


def test_a_date_beside_a_time_that_only_counts_tells_no_moment():
    _how, log = read_as_guessed(PLAIN, day=0)
    assert (log.begins, log.seconds.size) == (None, 700)


def test_the_month_comes_first_where_a_number_says_so():
    rows = [(s, c) for s, c in readings(300)]
    american = table(lambda s, c: f"{moment(s + 9 * 86400):%m/%d/%Y %H:%M:%S},{c}", rows=rows)
    assert found(american)[1].begins == START.timestamp() + 9 * 86400


def test_a_firing_over_midnight_is_a_day_long_whichever_way_its_days_are_written():
    for written in ("%m/%d/%Y %H:%M:%S", "%d/%m/%Y %H:%M:%S"):
        log = found(table(lambda s, c, way=written: f"{moment(s):{way}},{c}"))[1]
        assert log.begins == START.timestamp()
        assert log.seconds[-1] == SECONDS[-1]


def test_whole_degrees_with_their_thousands_parted_are_not_read_as_small_numbers():
    """'999' and then '1,000': a log of whole degrees, as a spreadsheet writes it."""
    log = found(table(lambda s, c: f'{s},"{c:,.0f}"', head="s,Temp C\n"))[1]
    assert np.abs(log.celsius - CELSIUS).max() <= 0.5


def test_a_unit_in_a_column_of_its_own_counts_though_the_kiln_never_got_hot():
    for head, row in (
        ("s,temp,unit\n", "{s},{c},F"),
        ("", "{s},{c},°F"),
        ("s,scale,temp\n", "{s},Fahrenheit,{c}"),
        ("s,temp,\n", "{s},{c},F"),
        ("s,temp,C/F\n", "{s},{c},F"),
        ("s,temp,target,unit\n", "{s},{c},500,F"),
    ):
        text = table(lambda s, c, row=row: row.format(s=s, c=f(c)), head=head, rows=readings(200))
        assert guess(text).unit == "f"
    # A state is no unit, on whichever side it stands: F may be that it fires.
    for head, row in (("s,state,temp\n", "{s},F,{c}"), ("s,Temp C,state\n", "{s},{c},F")):
        state = table(lambda s, c, row=row: row.format(s=s, c=c), head=head, rows=readings(200))
        assert guess(state).unit == "c"


def test_thirds_of_a_minute_are_not_taken_for_thousands():
    log = found(table(lambda s, c: f"{round(s / 180, 3):g},{c}", head="min,C\n", rows=readings(300)))[1]
    assert log.seconds[-1] == round(299 * 60 / 3)


@given(st.lists(st.integers(0, 999_999), min_size=2, max_size=60), st.sampled_from(".,"))
def test_figures_that_all_have_three_decimals_are_read_as_they_stand(thousandths, point):
    cells = [f"{n // 1000}{point}{n % 1000:03}" for n in sorted(thousandths)]
    assert ungrouped(cells) == cells


def test_a_guess_is_kept_as_json_and_can_be_told_otherwise():
    how = guess(PLAIN)
    assert Guess.of(how.plain()) == how
    short = table(lambda s, c: f"{s},{c}", rows=readings(300))
    _how, log = read_as_guessed(short, unit="f", time_kind="minutes")
    assert log.celsius[0] == pytest.approx((20 - 32) / 1.8)
    assert log.seconds[1] == 3600


# Newest first, but by no more than a tenth out of order, the rows are turned round; and that is said.
def test_newest_first_is_turned_round_and_said():
    log = found(table(lambda s, c: f"{s},{c}", rows=readings()[::-1]))[1]
    assert log.seconds.tolist() == SECONDS.tolist()
    assert [one["code"] for one in log.marks] == ["newest_first"]


TWICE = table(lambda s, c: f"{s},{c}", rows=readings(200) + readings(500), head="s,C\n")


def test_where_the_time_starts_anew_it_is_asked_what_to_do():
    _how, log = read_as_guessed(TWICE)
    assert log.resets == 1
    _how, joined = read_as_guessed(TWICE, resets="join")
    assert joined.seconds.size == 700
    assert [(one["code"], one["from"]) for one in joined.marks if one["code"] == "reset"] == [
        ("reset", 12000)
    ]
    _how, longest = read_as_guessed(TWICE, resets="longest")
    assert longest.seconds.size == 500
    assert next(one["params"] for one in longest.marks if one["code"] == "reset") == {
        "left_out": 200,
        "parts": 2,
    }


def test_what_is_written_out_is_read_in_as_it_was_below_nought_too():
    celsius = np.array([-7.5, -0.1, np.nan, 400.0, 1222.0])
    seconds = np.arange(5) * 3600
    lines = log_lines(Readings(seconds, celsius, START, []))
    log = found("".join(lines))[1]
    assert (log.seconds.tolist(), log.begins) == (seconds.tolist(), START.timestamp())
    np.testing.assert_array_equal(log.celsius, celsius)


def test_many_rows_are_read():
    rows = [
        (s, heat) for s, heat in zip(range(200_000), np.linspace(20, 1222, 200_000).round(1), strict=True)
    ]
    text = table(lambda s, c: f"{moment(s):%Y-%m-%d %H:%M:%S},{c}", rows=rows)
    assert found(text)[1].seconds.size == 200_000


@pytest.mark.parametrize(
    ("change", "first"),
    [(datetime(2026, 3, 29, 1, tzinfo=UTC), "01:00"), (datetime(2026, 10, 25, 1, tzinfo=UTC), "02:00")],
    ids=["forward", "back"],
)
@pytest.mark.parametrize("tells_days", [True, False])
def test_clocks_that_change_meanwhile_add_no_hour_and_take_none(change, first, tells_days):
    """European summer time begins and ends at 1:00 universal time (Directive 2000/84/EC)."""
    zone = ZoneInfo("Europe/Berlin")
    taken = [change + timedelta(minutes=minute) for minute in range(-60, 180)]
    rows = [(at.astimezone(zone), 500 + n) for n, at in enumerate(taken)]
    written = "%Y-%m-%d %H:%M" if tells_days else "%H:%M"
    text = table(lambda at, c: f"{at:{written}},{c}", head="time,celsius\n", rows=rows)
    fired = FiredWhen(change, change + timedelta(days=30))
    log = read(text, guess(text), zone, fired)
    assert (log.seconds.tolist(), log.marks, log.resets) == ([60 * n for n in range(240)], [], 0)
    began = log.begins if tells_days else log.clock
    assert datetime.fromtimestamp(began, UTC).strftime("%H:%M") == first
    # Counted by no clock that is known, it is what it says.
    assert read(text, guess(text)).seconds.tolist() != log.seconds.tolist()
