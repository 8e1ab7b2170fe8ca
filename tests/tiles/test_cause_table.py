"""The table of causes: what is wrong with one is said with row and column, and every version stays."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from studio.errors import Refused
from studio.roles import NotAllowed
from tests.reading import text_of
from tiles.actions import change_causes, restore_causes
from tiles.calc.cause_table import COLUMNS
from tiles.causes import causes_in_force, standard_text, version_in_force
from tiles.causes import text_of as table_of
from tiles.models import CauseTable

HEAD = ",".join(COLUMNS)
GOOD = {
    "fault": "running",
    "cause": "too_thick",
    "words": "Too thick",
    "prior": "2",
    "evidence": "thick +2; thin -1",
    "tell_apart": "thick",
    "remedy": "Thin it",
    "trial": "one coat fewer",
    "source": "",
    "mark": "own",
}


def sheet(**cells):
    row = {**GOOD, **cells}
    return f"{HEAD}\n" + ",".join(f'"{row[name]}"' for name in COLUMNS) + "\n"


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"fault": "melting"}, "Row 2, column “fault”: there is no fault “melting”."),
        ({"cause": "Too thick"}, "Row 2, column “cause”: “Too thick” is no code."),
        ({"words": ""}, "Row 2, column “words”: it is empty."),
        ({"trial": "x" * 201}, "Row 2, column “trial”: more than 200 letters."),
        ({"prior": "0"}, "Row 2, column “prior”: “0” is no number above 0"),
        ({"prior": "nan"}, "Row 2, column “prior”: “nan” is no number above 0"),
        ({"evidence": "thick 2 thin"}, "Row 2, column “evidence”: “thick 2 thin” is not understood."),
        ({"evidence": "fat +2"}, "Row 2, column “evidence”: there is no observation “fat”."),
        ({"evidence": "thick +9"}, "the weight in “thick +9” lies outside -4 to 4"),
        ({"evidence": "thick +1; thick +2"}, "“thick” stands there twice."),
        ({"tell_apart": "fat"}, "Row 2, column “tell_apart”: there is no observation “fat”."),
        ({"mark": "sure"}, "Row 2, column “mark”: write read, memory or own, not “sure”."),
        ({"mark": "read"}, "Row 2, column “source”: name what was read"),
    ],
    ids=str,
)
def test_a_bad_cell_is_named_by_row_and_column(technician, cells, said):
    change_causes(by=technician, table=sheet(), reason="as it should be")
    with pytest.raises(Refused) as refused:
        change_causes(by=technician, table=sheet(**cells), reason="a slip")
    assert said in " ".join(refused.value.problems["table"])
    assert table_of(version_in_force()) == sheet()


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("", "The table is empty."),
        (HEAD, "The table is empty."),
        (sheet().replace("prior,", "", 1), "the column “prior” is missing"),
        (sheet().replace("words,", "word,", 1), "there is no column “word”"),
        (sheet() + sheet().split("\n", 1)[1], "Row 3, column “cause”: “too_thick” stands there already"),
        (sheet().rstrip() + ',"more"', "Row 2 has more cells than there are columns."),
        (sheet() + '"' + "x" * 150_000, "a quote that was never closed"),
    ],
    ids=["nothing", "head only", "column missing", "column unknown", "twice", "cells", "endless cell"],
)
def test_a_table_of_the_wrong_shape(technician, table, said):
    with pytest.raises(Refused) as refused:
        change_causes(by=technician, table=table, reason="a slip")
    assert said in " ".join(refused.value.problems["table"])


def test_lines_that_end_as_on_an_old_machine(technician):
    change_causes(by=technician, table=sheet().replace("\n", "\r"), reason="from the old machine")
    assert [cause.code for cause in causes_in_force()] == ["too_thick"]


def test_as_a_spreadsheet_of_another_country_writes_it(technician):
    row = ";".join(f'"{GOOD[name]}"' for name in COLUMNS)
    change_causes(
        by=technician, table="\ufeff" + HEAD.replace(",", ";") + "\r\n" + row + "\r\n", reason="semicolons"
    )
    assert [cause.evidence for cause in causes_in_force()] == [(("thick", 2.0), ("thin", -1.0))]


def test_downloaded_changed_and_sent_again(tech):
    sent = b"".join(tech.get("/causes/table.csv").streaming_content).decode()
    assert len(sent.splitlines()) == len(standard_text().splitlines())
    changed = sent.replace("The glaze lies too thick", "The coat is too fat")
    file = SimpleUploadedFile("causes.csv", changed.encode("utf-8-sig"))
    answer = tech.post("/causes/edit/", {"file": file, "table": "", "reason": "our word for it"})
    assert answer["Location"] == "/causes/"
    assert "In force: “our word for it”" in text_of(tech.get("/causes/"))
    assert any(cause.words == "The coat is too fat" for cause in causes_in_force())


def test_a_refused_file_is_not_lost(tech):
    bad = sheet(prior="much")
    answer = tech.post("/causes/edit/", {"file": SimpleUploadedFile("c.csv", bad.encode()), "reason": "try"})
    page = answer.content.decode()
    assert "Row 2, column “prior”: “much” is no number" in text_of(answer)
    assert "&quot;much&quot;" in page
    assert 'value="try"' in page
    latin = tech.post(
        "/causes/edit/", {"file": SimpleUploadedFile("c.csv", b"\xe9\xff"), "table": bad, "reason": "r"}
    )
    assert "no text in UTF-8" in text_of(latin)
    assert "&quot;much&quot;" in latin.content.decode()
    assert not CauseTable.objects.exists()


def test_an_older_and_the_standard_table_are_put_back(tech, technician, member):
    first = change_causes(by=technician, table=sheet(), reason="one row")
    change_causes(by=technician, table=sheet(prior="3"), reason="oftener")
    tech.post("/causes/restore", {"version": str(first.pk)})
    assert [cause.prior for cause in causes_in_force()] == [2.0]
    with pytest.raises(Refused, match="in force already"):
        restore_causes(by=technician, version=version_in_force())
    tech.post("/causes/restore", {"version": "standard"})
    assert tech.get("/causes/").content.decode().count(">in force<") == 1
    assert table_of(version_in_force()) == standard_text()
    assert CauseTable.objects.count() == 4
    with pytest.raises(NotAllowed):
        restore_causes(by=member, version=first)


def test_a_file_beyond_all_measure_is_refused_and_not_shown_again(client, technician):
    client.force_login(technician)
    huge = SimpleUploadedFile("causes.csv", b"a,b\n" * 400_000)
    page = client.post("/causes/edit/", {"reason": "a slip", "file": huge})
    assert "Is it the right file?" in text_of(page)
    assert len(page.content) < 100_000
    assert CauseTable.objects.count() == 0


def test_who_was_slower_replaces_nothing_unread(tech, technician, people):
    page = tech.get("/causes/edit/")
    read = re.search(r'name="version" value="(\d+)"', page.content.decode())[1]
    change_causes(by=people["manager"], table=sheet(prior="5"), reason="it is met with often")
    file = SimpleUploadedFile("causes.csv", sheet(prior="7").encode())
    sent = {"table": "", "file": file, "reason": "oftener still", "version": read}
    refused = tech.post("/causes/edit/", sent)
    assert refused.status_code == 409
    assert "put another table in force: “it is met with often”" in text_of(refused)
    assert [cause.prior for cause in causes_in_force()] == [5.0]
    # Nothing is lost, and sent once more it goes in.
    form = refused.context["form"]
    again = {
        "table": form["table"].value(),
        "reason": form["reason"].value(),
        "version": form["version"].value(),
    }
    assert tech.post("/causes/edit/", again)["Location"] == "/causes/"
    assert [cause.prior for cause in causes_in_force()] == [7.0]


def test_the_api_knows_which_table_was_read(tech, technician):
    assert tech.get("/api/v1/causes/")["ETag"] == '"0"'
    first = {"table": sheet(prior="5"), "reason": "often"}
    sent = {"content_type": "application/json", "headers": {"If-Match": '"0"'}}
    made = tech.post("/api/v1/causes/", first, **sent)
    assert (made.status_code, made["ETag"]) == (201, '"1"')
    late = tech.post("/api/v1/causes/", {**first, "table": sheet(prior="7")}, **sent)
    assert (late.status_code, late.json()["current_version"]) == (412, 1)
    assert [cause.prior for cause in causes_in_force()] == [5.0]


def test_what_is_seen_in_the_bucket_has_causes_too(tech):
    """Section by section as the handbooks have it: settling is a fault that no tile shows."""
    page = tech.get("/causes/").content.decode()
    assert 'id="settling"' in page
    assert page.count(" open>") == 0
    assert tech.get("/causes/?fault=settling").content.decode().count(" open>") == 1
    assert "Epsom salts" in text_of(tech.get("/causes/"))
    assert 'href="/causes/?fault=settling#settling"' in tech.get("/ask/?q=settled").content.decode()


def test_what_it_weighs_is_said_to_be_judged(tech):
    page = text_of(tech.get("/causes/"))
    assert "All weights are judgements" in page
    assert "met with" not in page
