"""When a kiln will have cooled: close at half-way, honest about how close, and silent where a dead sensor could lie."""

import numpy as np
import pytest

from tiles.calc.cooling import Forecast, forecast
from tiles.calc.cooling_trouble import bound_c_per_h, fastest_falls

TO_C = 50


class Kiln:
    """A lump that cools by Newton's law and by radiation, stepped here by itself (not by the code under test).

    Its room warms or cools after the log began, and in the end, below some 150 °C, its walls make it slower or
    quicker by some per cent than one lump would be.
    """

    def __init__(self, seed, *, spacing=120, noise=1.0):
        rng = np.random.default_rng(seed)
        self.room = rng.normal(20, 3)
        later = self.room + rng.normal(0, 1.5)
        k, r = rng.uniform(0.04, 0.12), rng.uniform(0.2, 1.0) * 1e-10
        departs = rng.normal(0.02, 0.07)
        up = np.linspace(self.room, 1222, 8 * 3600 // spacing)
        down, now = [], 1222.0
        while now > TO_C - 4:
            down.append(now)
            for _part in range(4):
                slower = 1 - departs * np.exp(-(now - later) / 100)
                fall = k * slower * (now - later) + r * ((now + 273.15) ** 4 - (later + 273.15) ** 4)
                now -= fall * spacing / 4 / 3600
        self.true = np.append(up, down)
        self.seconds = np.arange(self.true.size) * spacing
        self.read = self.true + rng.normal(0, noise, self.true.size)
        self.peak = up.size
        self.end = int(np.flatnonzero((self.true <= TO_C) & (np.arange(self.true.size) > self.peak))[0])

    def at(self, share):
        """Seconds and readings up to this share of the cooling."""
        n = self.peak + int(share * (self.end - self.peak))
        return self.seconds[:n].copy(), self.read[:n].copy()


@pytest.fixture(scope="module")
def kiln():
    return Kiln(5)


def test_at_half_way_the_median_error_is_under_a_twentieth_and_the_interval_holds():
    errors, held = [], 0
    for seed in range(100):
        kiln = Kiln(seed, spacing=300)
        seconds, read = kiln.at(0.5)
        found = forecast(seconds, read, TO_C)
        assert isinstance(found, Forecast), found
        true = kiln.seconds[kiln.end]
        errors.append(abs(found.middle_s - true) / (true - seconds[-1]))
        held += found.low_s <= true <= found.high_s
    assert np.median(errors) < 0.05
    assert 0.75 <= held / 100 <= 0.95


def test_later_it_is_closer(kiln):
    widths = []
    for share in (0.3, 0.6, 0.9):
        found = forecast(*kiln.at(share), TO_C)
        widths.append(found.high_s - found.low_s)
    assert widths == sorted(widths, reverse=True)


def test_a_hold_on_the_way_down_is_left_out_of_the_fit(kiln):
    """Kept at 1000 °C for three hours: only what cooled freely after it says how fast it cools."""
    seconds, read = kiln.at(0.6)
    at = kiln.peak + int(np.argmax(read[kiln.peak :] < 1000))
    held = 90  # readings, two minutes apart
    longer = np.append(np.append(read[:at], np.full(held, 1000.0)), read[at:])
    clock = np.arange(longer.size) * 120.0
    assert forecast(clock, longer, TO_C).middle_s - held * 120 == pytest.approx(
        forecast(seconds, read, TO_C).middle_s, rel=0.01
    )


def dead(seconds, read):
    read[-5:] = 22


def unplugged(seconds, read):
    read[-20:] = np.nan


def stuck(seconds, read):
    read[-40:] = 400


def put_back(seconds, read):
    read[-200:-100] = 25


def again(seconds, read):
    read[-30:] += np.linspace(0, 120, 30)


def unread_then_cold(seconds, read):
    """The wire breaks while nobody reads for four hours: slow enough for some kiln, and below what is awaited."""
    seconds[-20:] += 4 * 3600
    read[-20:] = 24


def unread_then_cooler(seconds, read):
    """Three hours without a reading, then much cooler than it was on the way to become."""
    seconds[-20:] += 3 * 3600
    read[-20:] -= 330


def quick(seconds, read):
    """Down by 100 °C within ten minutes, though in no jump: the lid is up, or the wire slips out."""
    read[-10:] -= np.linspace(0, 150, 10)


TROUBLES = {
    dead: "step",
    unplugged: "lost",
    stuck: "stuck",
    put_back: "step",
    unread_then_cold: "step",
    unread_then_cooler: "step",
    again: "rising",
    quick: "too_fast",
}


@pytest.mark.parametrize("spoil", TROUBLES, ids=lambda f: f.__name__)
def test_a_sensor_that_may_lie_gets_no_forecast(kiln, spoil):
    seconds, read = kiln.at(0.3)
    # As still as a real log's tail, so that nothing but the trouble stands out.
    spoil(seconds, read)
    assert forecast(seconds, read, TO_C).code == TROUBLES[spoil]


def test_a_sensor_that_dies_slowly_is_found_by_what_the_kiln_did_before(kiln):
    """It falls no faster than some kiln could, but twice as fast as this one ever did."""
    history = fastest_falls(kiln.seconds, kiln.true)
    seconds, read = kiln.at(0.1)
    read[-30:] -= np.linspace(0, 120, 30)
    assert isinstance(forecast(seconds, read, TO_C), Forecast)
    assert forecast(seconds, read, TO_C, fastest=history).code == "too_fast"
    assert isinstance(forecast(*kiln.at(0.1), TO_C, fastest=history), Forecast)


@pytest.mark.parametrize("fades_over_h", [1, 2])
def test_a_sensor_that_fades_is_found_without_history_because_it_falls_faster_than_hours_before(fades_over_h):
    for seed in range(5):
        seconds, read = Kiln(seed).at(0.5)
        last = seconds > seconds[-1] - 90 * 60
        faded = np.exp(-(seconds[last] - seconds[last][0]) / 3600 / fades_over_h)
        assert isinstance(forecast(seconds, read, TO_C), Forecast)
        read[last] = 20 + (read[last] - 20) * faded
        assert forecast(seconds, read, TO_C).code == "too_fast"


@pytest.mark.parametrize(
    ("late_s", "code"),
    [
        (-86400, "ahead"),
        (-960, "ahead"),
        (-600, None),
        (0, None),
        (840, None),
        (960, "stopped"),
        (86400, "stopped"),
    ],
    ids=str,
)
def test_readings_that_stopped_forecast_nothing(kiln, late_s, code):
    seconds, read = kiln.at(0.5)
    assert getattr(forecast(seconds, read, TO_C, now_s=seconds[-1] + late_s), "code", None) == code


def test_an_hour_without_readings_alone_forbids_nothing(kiln):
    seconds, read = kiln.at(0.4)
    kept = (seconds < seconds[-1] - 5400) | (seconds > seconds[-1] - 1800)
    assert isinstance(forecast(seconds[kept], read[kept], TO_C), Forecast)


@pytest.mark.parametrize(
    ("share", "to_c", "code"),
    [(1.05, TO_C, "passed"), (0.003, TO_C, "climbing"), (0.5, 21, "near_the_room")],
)
def test_what_is_no_cooling_towards_that_temperature(kiln, share, to_c, code):
    n = kiln.peak + int(share * (kiln.end - kiln.peak))
    assert forecast(kiln.seconds[:n], kiln.read[:n], to_c).code == code


@pytest.mark.parametrize("n", [0, 1, 2, 5])
def test_a_log_of_nothing(n):
    seconds = np.arange(n) * 60.0
    assert forecast(seconds, np.full(n, np.nan), TO_C).code == "no_readings"
    assert forecast(seconds, np.full(n, 900.0), TO_C).code in ("no_readings", "climbing")


def test_the_room_of_a_log_that_begins_hot_is_not_known(kiln):
    seconds, read = kiln.at(0.5)
    late = forecast(seconds[kiln.peak :], read[kiln.peak :], TO_C)
    whole = forecast(seconds, read, TO_C)
    assert late.room_c == 20
    assert whole.room_c == pytest.approx(kiln.room, abs=2.5)
    assert late.high_s - late.low_s > whole.high_s - whole.low_s


def test_the_bound_is_above_what_simulated_kilns_do():
    for seed in range(5):
        for band, fall in fastest_falls(Kiln(seed).seconds, Kiln(seed).true).items():
            assert fall < bound_c_per_h(np.float64(band * 100))
