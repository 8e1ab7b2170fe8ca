"""A cone is one type: read as people write it, ordered by rank, never a bare number."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.cones import Cone, ConeError, ConeRange, unlikely_twin


@pytest.mark.parametrize(
    ("written", "rank"),
    [("6", 12), ("06", -10), ("01", 0), ("1", 2), ("022", -42), ("14", 28), ("05.5", -9), ("5.5", 11)]
    + [(text, 12) for text in ("^6", "c6", "C6", "cone 6", "Cone  6", " CONE6 ", "^ 6")]
    + [(text, 11) for text in ("5 1/2", "5½", "5 ½", "^5.5", "cone 5 1/2")]
    + [(text, -9) for text in ("05½", "05 1/2", "c05½")],
)
def test_reads_what_people_write(written, rank):
    assert Cone.parse(written) == Cone(rank)


@pytest.mark.parametrize(
    ("written", "code"),
    [("", "blank"), ("  ", "blank"), (6, "not_text"), (None, "not_text"), (6.5, "not_text")]
    + [(text, "no_such_cone") for text in ("0", "00", "23", "15", "023", "022.5", "14.5", "0.5", "006")]
    + [
        (text, "not_a_cone")
        for text in ("6.3", "-6", "six", "cone", "^", "6 6", "5,5", "6.50", "٦", "51/2", "½")
    ],
)
def test_refuses_the_rest_by_name(written, code):
    with pytest.raises(ConeError) as refusal:
        Cone.parse(written)
    assert refusal.value.code == code
    assert isinstance(refusal.value, ValueError)


@given(st.text(max_size=8) | st.text("0123456789./½^c ", max_size=8))
def test_any_text_is_a_cone_that_prints_back_or_a_refusal(text):
    try:
        cone = Cone.parse(text)
    except ConeError:
        return
    assert Cone.parse(cone.code) == cone
    assert Cone.parse(cone.label) == cone
    assert cone.code.isascii()


def test_all_cones_in_order_with_no_half_between_01_and_1():
    cones = Cone.all()
    assert list(cones) == sorted(set(cones))
    whole = [f"0{n}" for n in range(22, 0, -1)] + [str(n) for n in range(1, 15)]
    halves = [f"0{n}.5" for n in range(1, 22)] + [f"{n}.5" for n in range(1, 14)]
    assert [cone.code for cone in cones if not cone.is_half] == whole
    assert sorted(cone.code for cone in cones if cone.is_half) == sorted(halves)
    assert cones[cones.index(Cone.parse("01")) + 1] == Cone.parse("1")


@pytest.mark.parametrize("rank", [1, -43, 29, 12.0, "12", True])
def test_no_other_rank_exists(rank):
    with pytest.raises(ConeError):
        Cone(rank)


def test_never_compares_with_a_number_or_text():
    assert Cone.parse("6") != 12
    for other in (12, "6"):
        with pytest.raises(TypeError):
            assert Cone.parse("6") < other


def test_shown_with_a_half_sign():
    assert str(Cone.parse("05.5")) == "05½"
    assert (Cone.parse("5½").code, str(Cone.parse("06"))) == ("5.5", "06")


def test_whole_cone_below():
    below = {code: Cone.parse(code).whole_below().code for code in ("5.5", "05.5", "6", "01.5", "1")}
    assert below == {"5.5": "5", "05.5": "06", "6": "6", "01.5": "02", "1": "1"}


def test_twins_differ_by_the_nought_only():
    for cone in Cone.all():
        twin = unlikely_twin(cone)
        number = float(cone.code)
        if number <= 10:
            assert twin.code == (cone.code[1:] if cone.code.startswith("0") else f"0{cone.code}")
        else:
            assert twin is None


def test_range_shows_contains_and_meets():
    five_six = ConeRange(Cone.parse("5"), Cone.parse("6"))
    assert str(five_six) == "5–6"
    assert str(ConeRange(Cone.parse("6"), Cone.parse("6"))) == "6"
    inside = [cone.code for cone in Cone.all() if five_six.contains(cone)]
    assert inside == ["5", "5.5", "6"]
    assert five_six.meets(ConeRange(Cone.parse("6"), Cone.parse("10")))
    assert not five_six.meets(ConeRange(Cone.parse("06"), Cone.parse("04")))
    assert not ConeRange(Cone.parse("06"), Cone.parse("04")).meets(five_six)


def test_range_refuses_to_run_backwards():
    with pytest.raises(ConeError) as refusal:
        ConeRange(Cone.parse("6"), Cone.parse("06"))
    assert refusal.value.code == "reversed_range"
