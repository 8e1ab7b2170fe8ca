"""The register names the newest laboratory result of what is in a bucket: day and laboratory.

Only that one was over the limit is said: within is of the ware that was tested, not of a bucket.
"""

from datetime import date

import pytest
from django.utils import timezone

from tests import make
from tiles.models import LabLayer, LabReport, LabValue


def report(person, glaze, day, laboratory, **fields):
    made = LabReport.objects.create(
        laboratory=laboratory, tested_on=day, standard="canada", category="pitchers", by=person, **fields
    )
    LabLayer.objects.create(report=made, position=1, glaze=make.glaze())
    LabLayer.objects.create(report=made, position=2, glaze=glaze)
    return made


@pytest.fixture
def said(client, member):
    def said():
        client.force_login(member)
        rows = client.get("/api/v1/register/").json()["results"]
        return {row["glaze"]: row["laboratory"] for row in rows}

    return said


def test_the_newest_standing_report_that_the_reader_may_see(said, member, technician):
    glaze = make.glaze("Weir Blue")
    make.fill(glaze)
    assert said() == {"Weir Blue": ""}
    report(technician, glaze, date(2026, 3, 4), "Sluice Laboratory")
    report(technician, glaze, date(2025, 1, 2), "Older Laboratory")
    report(technician, glaze, date(2026, 5, 6), "Withdrawn", withdrawn_at=timezone.now())
    hidden = make.tile(by=technician, visibility="mine", layers=[{"glaze": glaze}])
    report(technician, glaze, date(2026, 7, 8), "Private", tile=hidden)
    assert said() == {"Weir Blue": "4 Mar 2026, Sluice Laboratory"}


@pytest.mark.parametrize(
    ("amount", "ending"), [("0.1", ""), ("9", "; 2 Jan 2025, Older Laboratory: over the limit")]
)
def test_one_that_was_over_the_limit_is_told(said, technician, amount, ending):
    glaze = make.glaze("Weir Blue")
    make.fill(glaze)
    report(technician, glaze, date(2026, 3, 4), "Sluice Laboratory")
    older = report(technician, glaze, date(2025, 1, 2), "Older Laboratory")
    LabValue.objects.create(report=older, piece=1, metal="Pb", amount=amount)
    assert said() == {"Weir Blue": f"4 Mar 2026, Sluice Laboratory{ending}"}
