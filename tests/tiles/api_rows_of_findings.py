"""The API's calls about marks."""

from tests.api_answers import EVERYBODY, TECHNICIANS_ADD, TECHNICIANS_WRITE
from tests.api_calls import Call, pk

ROWS = [
    Call("get", "api-flags-marks", EVERYBODY, pk("flag")),
    Call("post", "api-flags-marks", TECHNICIANS_ADD, lambda w: {"pk": w.touched_tile and w.flag.pk}),
    Call(
        "post",
        "api-flags-marks-undo",
        TECHNICIANS_WRITE,
        pk("flag"),
        lambda w: {"batch": str(w.flag_mark.batch)},
    ),
    Call(
        "post",
        "api-pots-findings",
        EVERYBODY,
        body=lambda w: {"layers": [{"fill": str(w.fill.pk)}], "cone": "6"},
    ),
    Call("get", "api-flags-used", EVERYBODY, pk("flag")),
]
