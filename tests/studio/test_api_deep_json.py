"""What is nested deeper than can be read is the sender's fault, and is said to be."""

import pytest

from tests.api_calls import ApiWorld


@pytest.mark.parametrize("deep", ["[" * 100_000, '{"samples": ' + "[" * 5000 + "]" * 5000 + "}"])
def test_json_nested_too_deeply_is_refused(db, deep):
    answer = ApiWorld().client("member").generic("POST", "/api/v1/calc/heat-work/", deep, "application/json")
    assert answer.status_code == 400
    assert "nested too deeply" in answer.json()["detail"]
