"""The rows of tests/test_page_roles.py about unloading, sorting photos and looking again (`w` is the World)."""

from django.core.files.uploadedfile import SimpleUploadedFile

from tests.photo_files import jpeg
from tests.tiles.page_roles_of_a_tile import NOT_THERE, STORED, fired, private
from tests.world import Row


def firing(w):
    return {"number": w.fired.number}


def inside(w):
    return {"number": w.fired.number, "tile": w.fired_tile.number}


def loose(w):
    return {"photo": w.loose_photo.pk}


def sorted_one(w):
    return {"photo": w.sorted_photo.pk}


def file():
    return SimpleUploadedFile("kiln.jpg", jpeg((300, 400)))


ROWS = [
    Row("tiles:unload", kwargs=firing, member=302, technician=302, manager=302),
    Row("tiles:unloaded", kwargs=firing),
    Row("tiles:unload-tile", kwargs=inside),
    Row(
        "tiles:unload-tile",
        "post",
        kwargs=inside,
        data=lambda w: {"zone": "whole:", "verdict": "again"},
        **STORED,
    ),
    Row("tiles:unload-draft", "post", kwargs=inside, member=204, technician=204, manager=204),
    Row("tiles:unload-photo", "post", kwargs=inside, **STORED),
    Row("tiles:loose", kwargs=firing),
    Row("tiles:loose", "post", kwargs=firing, data=lambda w: {"photos": file()}, **STORED),
    Row("tiles:loose-pick", "post", kwargs=loose, data=lambda w: {"tile": w.fired_tile.number}, **STORED),
    Row("tiles:loose-undo", "post", kwargs=sorted_one, **STORED),
    Row("tiles:loose-drop", "post", kwargs=loose, **STORED),
    Row("tiles:loose-sized", kwargs=lambda w: {"photo": w.loose_photo.pk, "size": "small"}),
    Row("tiles:looks-due"),
    Row("tiles:look-again", kwargs=fired),
    Row("tiles:look-again", kwargs=private, **NOT_THERE),
    Row("tiles:look-again", "post", kwargs=fired, data=lambda w: {"crazed": "1"}, **STORED),
]
