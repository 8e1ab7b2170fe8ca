"""The register names the newest laboratory result of what is in a bucket: day and laboratory, no word of judgement."""

from datetime import date

import pytest
from django.utils import timezone

from tests import make
from tiles.models import LabLayer, LabReport


def report(person, glaze, day, laboratory, **fields):
    made = LabReport.objects.create(
        laboratory=laboratory, tested_on=day, standard="x", category="y", by=person, **fields
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
