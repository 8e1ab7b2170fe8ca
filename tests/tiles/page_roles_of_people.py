"""The rows of tests/test_page_roles.py about a person's own tiles and the open wall (`w` is the World)."""

from tests.world import Row

NOT_THERE = {"visitor": 404, "member": 404, "technician": 404, "manager": 404}


def _of(photo):
    return lambda w: {"photo": getattr(w, photo).pk, "size": "small"}


ROWS = [
    Row("tiles:my-tiles"),
    Row("tiles:open-wall", visitor=200),
    Row("tiles:open-photo", kwargs=_of("open_photo"), visitor=200),
    # The photo of a tile that is not on the open wall is not there, whoever asks.
    Row("tiles:open-photo", kwargs=_of("others_photo"), **NOT_THERE),
    Row("tiles:open-photo", kwargs=_of("private_photo"), **NOT_THERE),
]
