"""The pages of laboratory reports: typed off without a script, shown with what every standard says, their file sent."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.test_laboratory import PDF, figures, report
from tiles.actions.laboratory import change_report
from tiles.models import LabReport

NEW = "/lab-reports/new/"


def typed(**more):
    said = {
        "standard": "us-fda",
        "category": "cups-and-mugs",
        "laboratory": "Sluice Analytics",
        "tested_on": "2026-03-02",
        "metal_1": "Pb",
        "unit_1": "mg_per_l",
        "figures_1": "<0.02 0,3\n< 0.02; 0.02 0.02 0.02",
        "metal_2": "Cd",
        "figures_2": "<0.01 - <0.01 <0.01 <0.01 <0.01",
    }
    return said | more


def pdf(name="2026 mugs.pdf", content=PDF):
    return SimpleUploadedFile(name, content, content_type="application/pdf")


def test_a_report_is_typed_off_and_shown(tech):
    glaze = make.glaze("Weir Green")
    answer = tech.post(NEW, typed(file=pdf(), glaze_1=glaze.pk, lot_1="B7", cone="6"), follow=True)
    made = LabReport.objects.get()
    written = [(v.metal, v.piece, str(v.amount), v.is_below) for v in made.values.order_by("metal", "piece")]
    assert written[:2] == [("Cd", 1, "0.01000", True), ("Cd", 3, "0.01000", True)]
    assert [row[3] for row in written[5:]] == [True, False, True, False, False, False]
    page = text_of(answer)
    assert "United States (FDA, two guides): more pieces needed" in page  # cadmium of one is missing
    assert "The standard wants 1 more piece" in page
    assert "Canada: within" in page
    assert "Japan It has no limit for this kind of ware." in page
    assert "545.450" in page
    for word in ("safe", "approved", "certified", "passed"):
        assert word not in page.replace("2015 edition", "").lower()
    assert (made.file_name, made.layers.get().lot) == ("2026 mugs.pdf", "B7")


def test_the_file_is_sent_to_be_saved(tech):
    tech.post(NEW, typed(file=pdf("mugs <2>.pdf")))
    answer = tech.get(reverse("tiles:report-file", args=[LabReport.objects.get().pk]))
    assert b"".join(answer.streaming_content) == PDF
    assert answer["Content-Disposition"] == 'attachment; filename="mugs 2.pdf"'
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Type"] == "application/pdf"


def test_a_file_that_was_replaced_is_still_read_from_the_page(tech, technician):
    made = report(technician, *figures("Pb", 0.1), file=pdf(content=PDF + b" first"))
    first = made.file_key
    change_report(by=technician, obj=made, values={"file": pdf(content=PDF + b" second")})  # of the same name
    change_report(by=technician, obj=made, values={"method": "C738"})
    page = tech.get(made.get_absolute_url())
    address = reverse("tiles:report-file-earlier", args=[made.pk, first])
    assert page.content.decode().count("/files/") == 1
    assert address in page.content.decode()
    assert b"".join(tech.get(address).streaming_content).endswith(b" first")
    # Only a file of this very report, and never by guessing.
    other = report(technician, *figures("Pb", 0.1), file=pdf())
    for key in (other.file_key, made.file_key):
        assert tech.get(reverse("tiles:report-file-earlier", args=[made.pk, key])).status_code == 404
    told = text_of(tech.get(reverse("studio:history-of", args=["tiles.labreport", made.pk])))
    assert told.count("2026 mugs.pdf") >= 2
    assert first not in told


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("figures_1", {"figures_1": "0.1 trace"}),
        ("figures_1", {"figures_1": "0.1234567"}),
        ("figures_1", {"figures_1": "", "figures_2": ""}),
        ("metal_1", {"metal_1": ""}),
        ("tile", {"tile": "no such"}),
        ("category", {"category": "storage"}),
        ("file", {"file": pdf(content=b"<html>")}),
    ],
)
def test_what_cannot_be_used_keeps_what_was_typed(tech, field, more):
    answer = tech.post(NEW, typed(remark="by post", **more))
    assert answer.status_code == 200
    form = answer.context["form"]
    assert field in form.errors
    assert form["remark"].value() == "by post"
    assert form["figures_2"].value() == more.get("figures_2", typed()["figures_2"])
    assert not LabReport.objects.exists()


def test_more_rows_keep_what_was_typed_and_save_nothing(tech):
    answer = tech.post(NEW, typed(more="1", figures_1="0.1 trace"))
    form = answer.context["form"]
    assert (form["figures_1"].value(), form["metal_2"].value()) == ("0.1 trace", "Cd")
    assert "figures_5" in form.fields
    assert "figures_6" not in form.fields
    assert not LabReport.objects.exists()


def test_a_change_shows_what_stands_and_a_second_one_is_a_conflict(tech, technician):
    made = report(technician, *figures("Pb", "0.3", "<0.02"), *figures("Co", "0.1"))
    address = reverse("tiles:report-edit", args=[made.pk])
    form = tech.get(address).context["form"]
    assert [form[f"figures_{n}"].value() for n in (1, 2)] == ["0.3 <0.02", "0.1 -"]
    sent = typed(version=made.version, figures_1="0.4")
    assert tech.post(address, sent).status_code == 302
    assert tech.post(address, sent).status_code == 409
    assert [str(v.amount) for v in made.values.filter(metal="Pb")] == ["0.40000"]


def test_a_withdrawn_report_leaves_the_list_and_its_tile(tech, technician):
    tile = make.fired_tile()
    made = report(technician, *figures("Pb", "0.3"), tile=tile)
    assert made in [row["report"] for row in tech.get("/lab-reports/").context["rows"]]
    assert "Laboratory and trials at home" in text_of(tech.get(tile.get_absolute_url()))
    tech.post(
        reverse("tiles:report-withdraw", args=[made.pk]), {"version": made.version, "reason": "wrong mug"}
    )
    assert tech.get("/lab-reports/").context["rows"] == []
    assert [row["report"] for row in tech.get("/lab-reports/?withdrawn=true").context["rows"]] == [made]
    assert tech.get(tile.get_absolute_url()).context["laboratory"]["reports"] == []
    assert "was withdrawn" in text_of(tech.get(made.get_absolute_url()))


def test_a_report_of_a_private_tile_is_not_there_for_others(client, member, technician):
    tile = make.fired_tile(by=make.person())
    made = report(technician, *figures("Pb", "0.3"), tile=tile)
    client.force_login(member)
    assert client.get(made.get_absolute_url()).status_code == 200
    type(tile).objects.filter(pk=tile.pk).update(visibility="mine")
    assert client.get(made.get_absolute_url()).status_code == 404
    assert client.get(reverse("tiles:report-file", args=[made.pk])).status_code == 404
    assert client.get("/lab-reports/").context["rows"] == []


def test_a_verdict_by_a_limit_that_nobody_read_is_called_unverified(tech, technician):
    """ISO 6486-2: number of pieces and rule from memory; the FDA's guides were read."""
    made = report(technician, *figures("Pb", *[0.1] * 6), *figures("Cd", *[0.01] * 6), standard="us-fda")
    page = text_of(tech.get(made.get_absolute_url()))
    assert "FDA, two guides): within the limit " in page
    assert "ISO 6486-2: within the limit, by an unverified rule" in page
