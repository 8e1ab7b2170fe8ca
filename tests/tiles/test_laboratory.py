"""Laboratory reports as they are written down: parts, judgement, file, changes and withdrawal."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.files.storage import storages
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from studio import papers
from studio.backups import photo_names
from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make, photo_files
from tiles.actions.laboratory import change_report, create_report, withdraw_report
from tiles.doctor_laboratory import report_files_exist
from tiles.laboratory import compared, judged, others
from tiles.models import LabReport

PDF = b"%PDF-1.4 a laboratory's report\n%%EOF"


def figures(metal, *amounts, unit="mg_per_l"):
    return [
        {
            "piece": piece,
            "metal": metal,
            "unit": unit,
            "is_below": str(amount).startswith("<"),
            "amount": Decimal(str(amount).lstrip("<")),
        }
        for piece, amount in enumerate(amounts, start=1)
    ]


def report(by, *rows, standard="us-fda", category="cups-and-mugs", **fields):
    said = {"laboratory": "Sluice Analytics", "tested_on": date(2026, 3, 2), **fields}
    return create_report(by=by, standard=standard, category=category, figures=rows, **said)


def pdf(name="report.pdf", content=PDF):
    return SimpleUploadedFile(name, content, content_type="text/html")


def test_a_members_word_is_no_report(member):
    with pytest.raises(NotAllowed):
        report(member, *figures("Pb", 0.1))


def test_it_is_judged_by_its_standard_and_what_others_would_say(technician):
    made = report(technician, *figures("Pb", "0.3", *["<0.02"] * 5), *figures("Cd", *["<0.01"] * 6))
    found = judged(made)
    assert (found.verdict, found.is_complete) == ("within", True)
    said = {opinion.standard: opinion.judged and opinion.judged.verdict for opinion in others(made)}
    assert said == {
        "iso-6486-2": "within",
        "eu-84-500": "within",
        "canada": "within",
        "japan": None,  # has no row of cups
        "california-65": "over",  # 0.3 is over 0.100
    }


def test_figures_in_the_wrong_unit_are_kept_and_not_judged(technician):
    made = report(technician, *figures("Pb", 0.2), standard="eu-84-500", category="flatware")
    assert judged(made) is None
    both = figures("Pb", 0.2) + figures("Pb", 0.05, unit="mg_per_dm2")
    change_report(by=technician, obj=made, values={"figures": both})
    assert judged(LabReport.objects.get()).verdict == "within"
    by_code = {opinion.standard: opinion for opinion in others(LabReport.objects.get())}
    assert by_code["canada"].judged.metals[0].counted == Decimal("0.2")


def test_other_metals_are_compared_and_never_over(technician):
    made = report(technician, *figures("Pb", 0.1), *figures("Co", "0.2", "<0.5"))
    times = {found.yardstick.yardstick: (found.times, found.is_below) for found in compared(made)}
    # ISO 4531:2018 100 µg/L and the Council of Europe's 0.02 mg/kg, as their copies print them.
    assert times["iso-4531"] == (5, True)
    assert times["coe-metals"] == (25, True)


def test_of_a_tile_its_stack_body_and_cone_are_taken(technician):
    fill = make.fill(lot="B7")
    tile = make.fired_tile(body=make.body(), layers=[{"fill": fill}, {"glaze": make.glaze(kind="wax")}])
    made = report(technician, *figures("Pb", 0.1), tile=tile)
    assert [(row.glaze, row.lot) for row in made.layers.all()] == [(fill.glaze, "B7")]
    assert (made.body, made.cone) == (tile.body, tile.cone)
    said = report(technician, *figures("Pb", 0.1), tile=tile, layers=[{"glaze": fill.glaze, "lot": "B8"}])
    assert [row.lot for row in said.layers.all()] == ["B8"]


def test_a_change_and_a_withdrawal_are_history(technician):
    made = report(technician, *figures("Pb", 0.1))
    change_report(by=technician, obj=made, values={"figures": figures("Pb", 0.7), "method": "C738"})
    row = Change.objects.filter(kind="tiles.labreport", verb="changed").get()
    assert row.before["figures"] == ["Pb 1: 0.1 mg/L (the same as µg/mL)"]
    assert row.after["figures"] == ["Pb 1: 0.7 mg/L (the same as µg/mL)"]
    with pytest.raises(Refused, match="Say why"):
        withdraw_report(by=technician, obj=made, reason=" ")
    withdraw_report(by=technician, obj=made, reason="of another mug")
    assert LabReport.objects.standing().count() == 0
    with pytest.raises(Refused, match="withdrawn"):
        change_report(by=technician, obj=made, values={"method": "C738"})


@pytest.mark.parametrize(
    ("field", "said"),
    [
        ("standard", {"standard": "mars"}),
        ("category", {"standard": "japan", "category": "cups-and-mugs"}),
        ("tested_on", {"tested_on": timezone.localdate() + timedelta(days=2)}),
        ("file", {"file": pdf(content=b"<html>")}),
        ("file", {"file": pdf(content=b"")}),
    ],
)
def test_what_is_refused_leaves_nothing(technician, field, said):
    with pytest.raises(Refused) as refused:
        report(technician, *figures("Pb", 0.1), **said)
    assert list(refused.value.problems) == [field]
    assert not LabReport.objects.exists()


def test_two_figures_of_one_piece_are_refused_with_their_file(technician):
    before = _stored()
    with pytest.raises(Refused, match="two figures"):
        report(technician, *figures("Pb", 0.1), *figures("Pb", 0.2), file=pdf())
    assert _stored() == before


def _stored():
    found = []
    storage = storages["photos"]
    folders = storage.listdir("papers")[0] if storage.exists("papers") else []
    for folder in folders:
        found += storage.listdir(f"papers/{folder}")[1]
    return found


def test_the_file_lies_under_a_random_key_and_the_doctor_misses_it(technician):
    made = report(technician, *figures("Pb", 0.1), file=pdf("../../a<b>.exe"))
    assert made.file_name == "ab.pdf"
    assert papers.KEY.fullmatch(made.file_key)
    assert report_files_exist() == []
    assert papers.path_of(made.file_key) in photo_names(storages["photos"])  # so a backup holds it
    earlier = made.file_key
    change_report(by=technician, obj=made, values={"file": pdf("scan.pdf")})
    papers.forget(earlier)  # somebody may have relied on the one that was replaced
    (said,) = report_files_exist()
    assert (papers.path_of(earlier) in said, "was replaced" in said) == (True, True)
    papers.forget(made.file_key)
    assert len(report_files_exist()) == 2


def test_a_picture_is_a_report_too(technician):
    made = report(technician, *figures("Pb", 0.1), file=pdf("scan.pdf", photo_files.jpeg(size=(300, 500))))
    assert made.file_name == "scan.jpg"
    first = made.file_key
    change_report(by=technician, obj=made, values={"file": pdf()})
    assert made.file_name == "report.pdf"
    assert papers.is_there(first)  # nothing is deleted
