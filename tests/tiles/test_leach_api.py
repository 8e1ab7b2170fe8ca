"""The calculator of limits and the laboratory reports over the API: verdicts with limit, basis, mark and citation."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from rest_framework.test import APIClient

from tiles.calc.leach import judge
from tiles.laboratory_words import metal_rows

ADDRESS = "/api/v1/calc/leach/"


@pytest.fixture
def api(member):
    client = APIClient()
    client.force_login(member)
    return client


def asked(api, standard, category, *results, code=200):
    answer = api.post(
        ADDRESS, {"standard": standard, "category": category, "results": list(results)}, format="json"
    )
    assert answer.status_code == code, answer.json()
    return answer.json()


def test_lead_by_one_guide_and_cadmium_by_the_other(api):
    """FDA CPG 545.450 and 545.400: cups are judged for cadmium as small hollowware."""
    piece = {"lead_mg_per_l": 0.6, "cadmium_mg_per_l": "<0.02"}
    found = asked(api, "us-fda", "cups-and-mugs", piece, *[{"lead_mg_per_l": 0.1, "cadmium_mg_per_l": 0}] * 5)
    assert found["verdict"] == "over"
    lead, cadmium = found["metals"]
    assert (lead["limit"], lead["basis"], lead["verdict"], lead["pieces_above"]) == (0.5, "each", "over", [1])
    assert (cadmium["limit"], cadmium["own_category"], cadmium["verdict"]) == (
        0.5,
        "small hollowware",
        "within",
    )
    assert "545.450" in lead["citation"]
    assert "545.400" in cadmium["citation"]


def test_pieces_still_needed_and_a_mark_of_memory(api):
    found = asked(api, "iso-6486-2", "cups-and-mugs", {"lead_mg_per_l": 0.1, "cadmium_mg_per_l": "<0.02"})
    assert (found["verdict"], found["pieces_needed"]) == ("more-pieces-needed", 3)
    assert {(metal["mark"], metal["is_unverified"]) for metal in found["metals"]} == {("memory", True)}
    assert any("Unverified" in finding["sentence"] for finding in found["findings"])


def test_california_warns_and_limits_lead_only(api):
    found = asked(api, "california-65", "pitchers", {"lead_mg_per_l": 0.11, "cadmium_mg_per_l": 0.2})
    assert found["verdict"] == "over"
    assert [(metal["metal"], metal["kind"]) for metal in found["metals"]] == [("lead", "warning level")]
    assert "warning level" in found["sentence"]


def test_a_metal_that_was_not_measured_is_said(api):
    found = asked(api, "canada", "pitchers", {"lead_mg_per_l": 0.1})
    assert (found["verdict"], found["not_measured"]) == ("within", ["cadmium"])
    assert "cadmium" in found["sentence"]


@pytest.mark.parametrize(
    ("standard", "category", "result", "field", "words"),
    [
        ("eu-84-500", "flatware", {"lead_mg_per_l": 0.1}, "results", "do not convert"),
        ("us-fda", "flatware", {"lead_mg_per_dm2": 0.1}, "results", "do not convert"),
        ("canada", "storage", {"lead_mg_per_l": 0.1}, "category", "pitchers"),
        ("mars", "storage", {"lead_mg_per_l": 0.1}, "standard", "eu-84-500"),
        ("canada", "flatware", {"lead_mg_l": 0.1}, "results", "lead_mg_l"),
        ("canada", "flatware", {"lead_mg_per_l": "trace"}, "results", "trace"),
        ("canada", "flatware", {"lead_mg_per_l": -1}, "results", "below nothing"),
        ("canada", "flatware", {"lead_mg_per_l": [1]}, "results", "not a figure"),
        ("canada", "flatware", {}, "results", "No piece"),
    ],
)
def test_what_cannot_be_judged_says_why(api, standard, category, result, field, words):
    (error,) = asked(api, standard, category, result, code=400)["errors"]
    assert error["field"] == field
    assert words in error["sentence"]


def test_an_unknown_key_beside_the_three_is_named(api):
    answer = api.post(ADDRESS, {"standard": "canada", "ware": "flatware", "results": []}, format="json")
    assert answer.status_code == 400
    assert "ware" in {error["field"] for error in answer.json()["errors"]}


REPORT = {
    "laboratory": "Sluice Analytics",
    "tested_on": "2026-03-02",
    "standard": "eu-84-500",
    "category": "cups-and-mugs",
    "figures": [
        {"piece": 1, "metal": "lead", "amount": 3.9},
        {"piece": 1, "metal": "cadmium", "amount": "<0.02"},
        {"piece": 1, "metal": "cobalt", "amount": "0.2"},
    ],
}


@pytest.fixture
def technicians_api(technician):
    client = APIClient()
    client.force_login(technician)
    return client


def test_a_report_comes_back_with_what_each_standard_says(technicians_api):
    made = technicians_api.post("/api/v1/lab-reports/", REPORT, format="json").json()
    assert [row["amount"] for row in made["figures"]] == ["<0.02", "0.2", "3.9"]
    assert made["own"]["judged"]["verdict"] == "within"
    assert made["own"]["judged"]["is_boundary"] is True
    others = {said["standard"]: said["judged"] and said["judged"]["verdict"] for said in made["others"]}
    assert others["canada"] == "over"
    assert others["japan"] is None
    assert {found["times"] for found in made["compared"]} == {2.0, 10.0}  # cobalt beside 0.1 and 0.02
    wrong = REPORT | {"figures": [{"piece": 1, "metal": "lead", "amount": "trace"}]}
    (error,) = technicians_api.post("/api/v1/lab-reports/", wrong, format="json").json()["errors"]
    assert error["field"] == "figures.0.amount"
    assert "trace" in error["sentence"]


def test_a_file_goes_up_once_and_comes_down(technicians_api):
    made = technicians_api.post("/api/v1/lab-reports/", REPORT, format="json").json()
    address = f"/api/v1/lab-reports/{made['id']}/file/"
    assert technicians_api.get(address).status_code == 404
    for _again in range(2):
        file = SimpleUploadedFile("mugs.pdf", b"%PDF-1.4 mugs", content_type="text/html")
        sent = technicians_api.post(
            address, {"file": file}, format="multipart", headers={"Idempotency-Key": "k"}
        )
        assert (sent.status_code, sent.json()["version"]) == (200, 2)
    found = technicians_api.get(address)
    assert b"".join(found.streaming_content) == b"%PDF-1.4 mugs"
    assert found["Content-Disposition"] == 'attachment; filename="mugs.pdf"'
    again = SimpleUploadedFile("mugs.pdf", b"%PDF-1.4 cups")
    assert technicians_api.post(address, {"file": again}, format="multipart").status_code == 200
    of_it = {"kind": "tiles.labreport", "object": made["id"]}
    changes = technicians_api.get("/api/v1/changes/", of_it).json()["results"]
    [key] = [row["before"]["file_key"] for row in changes if row["before"].get("file_key")]
    assert b"".join(technicians_api.get(address, {"key": key}).streaming_content) == b"%PDF-1.4 mugs"
    assert technicians_api.get(address, {"key": "0" * 32 + ".pdf"}).status_code == 404
    bad = SimpleUploadedFile("mugs.pdf", b"<script>")
    answer = technicians_api.post(address, {"file": bad}, format="multipart")
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (400, "file")


def test_what_lies_below_detection_is_not_told_as_measured(client, member):
    """'<0.005' of every piece is no 0.005: page and API say at most that."""
    client.force_login(member)
    pieces = [{"lead_mg_per_l": "0.04", "cadmium_mg_per_l": "<0.005"}] * 6
    sent = {"standard": "us-fda", "category": "cups-and-mugs", "results": pieces}
    found = client.post("/api/v1/calc/leach/", sent, content_type="application/json").json()
    assert {m["metal"]: (m["counted"], m["counted_is_bound"]) for m in found["metals"]} == {
        "lead": (0.04, False),
        "cadmium": (0.005, True),
    }
    rows = metal_rows(judge("us-fda", "flatware", [{"lead_mg_per_l": "<0.1"}, {"lead_mg_per_l": "0.3"}]))
    assert rows[0]["counted"] == "at most 0.2"  # a mean with a bound in it is one too
    rows = metal_rows(judge("us-fda", "cups-and-mugs", [{"lead_mg_per_l": "<0.1"}, {"lead_mg_per_l": "0.3"}]))
    assert rows[0]["counted"] == "0.3"
