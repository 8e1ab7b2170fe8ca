"""The API's calls of the place: people, access, settings, history. Written by hand; see tests/test_api_roles.py."""

from tests.api_answers import EVERYBODY, MANAGERS
from tests.api_calls import Call, data, pk

ROWS = [
    Call("get", "api-schema", EVERYBODY),
    Call("get", "api-me", EVERYBODY),
    Call("patch", "api-me", "401 200 200 200 403 403", body=data(units="us")),
    Call("get", "api-today", EVERYBODY),
    Call("get", "api-studio", EVERYBODY),
    Call("patch", "api-studio", MANAGERS, body=data(sg_stale_after_days=20), of="studio"),
    Call("get", "api-people-list", EVERYBODY),
    Call("get", "api-people-detail", EVERYBODY, pk("other")),
    Call("patch", "api-people-detail", MANAGERS, pk("other"), data(role="technician")),
    Call("post", "api-people-forget", MANAGERS, pk("other")),
    Call("get", "api-invitations-list", MANAGERS),
    Call(
        "post",
        "api-invitations-list",
        "401 403 403 201 403 403",
        body=data(role="member", note="the new one"),
        shown_once="address",
    ),
    Call("get", "api-invitations-detail", MANAGERS, pk("invitation")),
    Call("post", "api-invitations-withdraw", MANAGERS, pk("invitation")),
    Call("get", "api-tokens-list", "401 200 200 200 200 403"),
    Call(
        "post",
        "api-tokens-list",
        "401 201 201 201 403 403",
        body=data(name="spreadsheet"),
        shown_once="key",
    ),
    Call(
        "post",
        "api-tokens-list",
        "401 403 201 201 403 403",
        body=data(name="tablet", kind="device"),
        shown_once="key",
    ),
    Call("get", "api-tokens-detail", "401 200 404 404 200 403", pk("token")),
    Call("post", "api-tokens-revoke", "401 200 404 404 403 403", pk("token")),
    Call("get", "api-changes-list", "401 403 200 200 403 403"),
    Call("get", "api-changes-detail", EVERYBODY, pk("change")),
]
