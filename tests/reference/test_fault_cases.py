"""The table of causes against what the handbooks say: each case names its source in fault_cases.csv.

Every second case was set aside before the table was written. The two halves are reported apart, so that a table which
was only fitted to its own cases would show it.
"""

import csv
from pathlib import Path

import pytest

from tiles.calc.cause_table import read_table
from tiles.calc.causes import OBSERVATIONS, of_fault, rank
from tiles.causes import CODES
from tiles.models import OutcomeFault

HERE = Path(__file__).parent
FIXTURE = HERE.parents[1] / "fixtures" / "causes.csv"
CASES = list(csv.DictReader((HERE / "fault_cases.csv").read_text(encoding="utf-8").splitlines()))
HALVES = ("tuning", "aside")


def table():
    causes, problems = read_table(FIXTURE.read_text(encoding="utf-8"), CODES)
    assert problems == []
    return causes


def seen_in(case):
    return {**dict.fromkeys(case["yes"].split(), True), **dict.fromkeys(case["no"].split(), False)}


def named(half, *, places, blind=False):
    """The cases of a half whose expected cause is among so many first ones, and what the others got."""
    causes, right, wrong = table(), [], []
    for case in CASES:
        if case["set"] == half:
            ranked = rank(of_fault(causes, case["fault"]), {} if blind else seen_in(case))
            found = [one.cause.code for one in ranked[:places]]
            (right if case["expected"] in found else wrong).append((case["case"], case["expected"], found))
    return right, wrong


def test_the_cases_are_usable():
    codes = {(cause.fault, cause.code) for cause in table()}
    assert len(CASES) >= 30
    assert [case["set"] for case in CASES[:4]] == ["tuning", "aside"] * 2
    for case in CASES:
        assert case["source"], case
        assert seen_in(case).keys() <= {*OBSERVATIONS}, case
        assert (case["fault"], case["expected"]) in codes, case


@pytest.mark.parametrize("half", HALVES)
def test_the_expected_cause_is_among_the_first_two(half):
    right, wrong = named(half, places=2)
    first, blind = named(half, places=1)[0], named(half, places=2, blind=True)[0]
    of = len(right) + len(wrong)
    # Shown by pytest -rP.
    said = f"{len(right)} of {of} among the first two, {len(first)} in front; unseen {len(blind)}"
    print(f"\n{half}: {said}")  # noqa: T201
    assert not wrong, wrong


@pytest.mark.parametrize("half", HALVES)
def test_the_evidence_does_the_work(half):
    """Whoever always names the commonest cause, whatever was seen, is wrong more often than right."""
    right, wrong = named(half, places=1, blind=True)
    assert len(right) < len(wrong)
    right, wrong = named(half, places=1)
    assert len(right) > 3 * len(wrong)


def test_every_fault_that_a_tile_can_show_has_causes():
    without = {kind for kind in CODES if not of_fault(table(), kind)}
    assert without == {"other"}
    assert {*OutcomeFault.Kind.values} < {*CODES}


def test_what_rests_on_memory_says_so():
    for cause in table():
        assert cause.mark == ("read" if cause.source else "memory"), cause.code
