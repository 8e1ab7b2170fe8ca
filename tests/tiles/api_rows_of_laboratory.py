"""The API's calls of laboratory reports, trials at home and the calculator of limits."""

from tests.api_answers import ADDS, EVERYBODY, OWN_TILE, PRIVATE, TECHNICIANS_ADD, TECHNICIANS_WRITE, WRITES
from tests.api_calls import Call, data, picture, pk

LEACH = {"standard": "canada", "category": "pitchers", "results": [{"lead_mg_per_l": "<0.02"}]}
FIGURES = [{"piece": 1, "metal": "lead", "amount": "<0.02"}]
REPORT = {
    "laboratory": "Sluice Analytics",
    "tested_on": "2026-03-02",
    "standard": "canada",
    "category": "pitchers",
    "figures": FIGURES,
}
PHOTO = lambda w: {"pk": w.trial.pk, "photo_id": w.trial_photo.pk}  # noqa: E731

ROWS = [
    Call("post", "api-calc-leach", EVERYBODY, body=data(**LEACH)),
    Call("get", "api-lab-reports-list", EVERYBODY),
    Call("post", "api-lab-reports-list", TECHNICIANS_ADD, body=data(**REPORT)),
    Call("get", "api-lab-reports-detail", EVERYBODY, pk("report")),
    Call("get", "api-lab-reports-detail", PRIVATE, pk("private_report")),
    Call(
        "patch", "api-lab-reports-detail", TECHNICIANS_WRITE, pk("report"), data(method="C738"), of="report"
    ),
    Call("get", "api-lab-reports-file", EVERYBODY, pk("report")),
    Call("get", "api-lab-reports-file", PRIVATE, pk("private_report")),
    Call(
        "post",
        "api-lab-reports-file",
        TECHNICIANS_WRITE,
        pk("report"),
        lambda w: {"file": picture()},
        multipart=True,
    ),
    Call("post", "api-lab-reports-withdraw", TECHNICIANS_WRITE, pk("report"), data(reason="another mug")),
    Call("get", "api-home-trials-list", EVERYBODY),
    Call(
        "post",
        "api-home-trials-list",
        ADDS,
        body=lambda w: {"tile": str(w.fired_tile.pk), "kind": "acid", "done": "vinegar, three days"},
    ),
    Call("get", "api-home-trials-detail", EVERYBODY, pk("trial")),
    Call("post", "api-home-trials-end", WRITES, pk("others_trial"), data(result="failed", seen="dull")),
    Call("post", "api-home-trials-take-back", OWN_TILE, pk("trial"), data(reason="by mistake")),
    Call(
        "post",
        "api-home-trials-add-photo",
        ADDS,
        pk("trial"),
        lambda w: {"photo": picture(), "stage": "after"},
        multipart=True,
    ),
    Call("get", "api-home-trials-photo", EVERYBODY, PHOTO, query="?size=small"),
    Call("post", "api-home-trials-photo-archive", "401 204 204 204 403 403", PHOTO),
]
