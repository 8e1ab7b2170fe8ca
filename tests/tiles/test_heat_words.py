"""The words for a log's cone never give one false figure, and every code of the reckoning has its sentence."""

import re
from pathlib import Path

import pytest

from inventory.calc.cones import Cone
from studio import units
from tiles.calc import heat_findings, heat_work, hot_time
from tiles.calc.heat_work import HeatWorkError
from tiles.heat_sentences import (
    ERRORS,
    FINDINGS,
    SOURCES,
    heat_error_sentence,
    heat_sentence,
    heat_words,
    reached_words,
)


def said(cone, fraction, low, high):
    return reached_words(
        *(value and Cone.parse(value) for value in (cone,)), fraction, *map(parsed, (low, high))
    )


def parsed(code):
    return Cone.parse(code) if code else None


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (("6", 0.4, "6", "7"), "cone 6, two fifths of the way to 7 (6 to 7)"),
        (("6", 0.02, "5", "6"), "cone 6, just down (5 to 6)"),
        (("6", 0.99, "6", "8"), "cone 6, almost 7 (6 to 8)"),
        (("06", 0.2, "06", "06"), "cone 06, a fifth of the way to 05 (06, not yet 05)"),
        (("01", 0.6, "02", "1"), "cone 01, three fifths of the way to 1 (02 to 1)"),
        (("022", 0.8, None, "021"), "cone 022, four fifths of the way to 021 (no cone to 021)"),
        (("14", None, "14", "14"), "cone 14 or hotter (14)"),
        ((None, None, None, "022"), "no cone down (at most 022)"),
        ((None, None, None, None), "no cone down"),
    ],
)
def test_the_cone_with_the_way_to_the_next_and_the_interval(given, words):
    assert said(*given) == words


def test_a_reckoned_log_is_said_so():
    found = heat_work.heat_work([0, 1202, 1262], [20, 1222, 1000])
    assert re.fullmatch(r"cone 6, \w+ fifths? of the way to 7 \(6, not yet 7\)", heat_words(found))


def test_each_finding_and_each_error_has_words():
    assert FINDINGS.keys() == heat_findings.RULES.keys()
    assert {source for _level, source in heat_findings.RULES.values()} == SOURCES.keys()
    raised = set()
    for module in (heat_work, hot_time):
        raised |= set(re.findall(r'(?:HeatWorkError\(|, )"(\w+)"[,)]', Path(module.__file__).read_text()))
    assert {code for code in raised if code in ERRORS} == ERRORS.keys()


def test_sentences_say_what_is_and_what_to_do():
    found = heat_work.heat_work([0, 60], [20, 480.4]).findings
    assert "no higher than 480\xa0°C" in heat_sentence(found[0])
    error = HeatWorkError("not_a_temperature", row=3, value=1e9)
    assert heat_error_sentence(error).endswith("Give °C between -100 and 2000.")
    for finding in heat_work.heat_work([0, 1202, 1262], [20, 1222, 1222]).findings:
        assert "%" not in heat_sentence(finding)


def test_degrees_are_those_that_the_person_reads():
    found = heat_work.heat_work([0, 60], [20, 480.4]).findings
    with units.shown_as(temperature="f", amounts="metric"):
        assert "no higher than 897\xa0°F" in heat_sentence(found[0])
