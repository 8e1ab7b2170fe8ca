"""The rows of tests/test_page_roles.py about logging and looking at a tile (`w` is the World)."""

from tests.world import Row

STORED = {"member": 302, "technician": 302, "manager": 302}
STORED_BY_TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}
NOBODY_ELSE = {"member": 403}  # another member's tile: its maker and technicians only
NOT_THERE = {"member": 404}  # another member's private tile


def own(w):
    return {"number": w.tile.number}


def others(w):
    return {"number": w.others_tile.number}


def private(w):
    return {"number": w.private_tile.number}


def fired(w):
    return {"number": w.fired_tile.number}


def layer(w):
    return {"number": w.tile.number, "layer": w.layer.pk}


def next_layer(w):
    return {"fill": "", "glaze": w.glaze.pk, "method": "dip", "coats": 1, "area": "whole", "ground": "bisque"}


def photo(w):
    return {"photo": w.photo.pk}


def small(w):
    return {"photo": w.photo.pk, "size": "small"}


ROWS = [
    Row("tile", kwargs=own),
    Row("tile", kwargs=others),
    Row("tile", kwargs=private, **NOT_THERE),
    Row("tiles:log-start"),
    Row(
        "tiles:log-start",
        "post",
        data=lambda w: {"number": w.tile.number},
        **STORED,
    ),
    Row("tiles:number-bare", "post", **STORED),
    Row("tiles:number-add"),
    Row(
        "tiles:number-add",
        "post",
        data=lambda w: {"number": "old-7", "visibility": "studio"},
        **STORED,
    ),
    Row("tiles:log", kwargs=own),
    Row("tiles:log", kwargs=others, **NOBODY_ELSE),
    Row("tiles:log", kwargs=private, **NOT_THERE),
    Row("tiles:log", "post", kwargs=own, data=next_layer, **STORED),
    Row("tiles:log", "post", kwargs=others, data=next_layer, **STORED_BY_TECHNICIANS),
    Row("tiles:layer-check", "post", kwargs=own, data=next_layer),
    Row("tiles:layer-check", "post", kwargs=others, data=next_layer, **NOBODY_ELSE),
    Row("tiles:layer-correct", kwargs=layer),
    Row("tiles:layer-correct", "post", kwargs=layer, data=next_layer, **STORED),
    Row("tiles:layer-away", "post", kwargs=layer, **STORED),
    Row(
        "tiles:log-load",
        "post",
        kwargs=own,
        data=lambda w: {"firing": w.firing.pk},
        **STORED,
    ),
    Row(
        "tiles:log-load",
        "post",
        kwargs=others,
        data=lambda w: {"firing": w.firing.pk},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:tile-hand", "post", kwargs=own, **STORED),
    Row("tiles:tile-hand", "post", kwargs=others, **STORED_BY_TECHNICIANS),
    Row("tiles:tile-edit", kwargs=own),
    Row("tiles:tile-edit", kwargs=others, **NOBODY_ELSE),
    Row(
        "tiles:tile-edit",
        "post",
        kwargs=own,
        data=lambda w: {"visibility": "open", "state": "glazed"},
        **STORED,
    ),
    Row("tiles:tile-edit", "post", kwargs=others, technician=200, manager=200, **NOBODY_ELSE),
    Row("tiles:tile-look", kwargs=fired),
    Row("tiles:tile-look", kwargs=private, **NOT_THERE),
    Row(
        "tiles:tile-look",
        "post",
        kwargs=fired,
        data=lambda w: {"zone": "whole:", "surface": "satin", "looked_on": "2026-01-02"},
        **STORED,
    ),
    Row("tiles:look-back", kwargs=lambda w: {"look": w.outcome.pk}),
    Row(
        "tiles:look-back",
        "post",
        kwargs=lambda w: {"look": w.outcome.pk},
        data=lambda w: {"reason": "that was tile 45"},
        **STORED,
    ),
    Row("tiles:photo-add", "post", kwargs=own),
    Row("tiles:photo-add", "post", kwargs=private, **NOT_THERE),
    Row("tiles:photo", kwargs=photo),
    Row("tiles:photo", kwargs=lambda w: {"photo": w.private_photo.pk}, **NOT_THERE),
    Row("tiles:photo-sized", kwargs=small),
    Row("tiles:photo-sized", kwargs=lambda w: {"photo": w.private_photo.pk, "size": "large"}, **NOT_THERE),
    Row("tiles:photo-original", kwargs=photo),
    Row("tiles:photo-original", kwargs=lambda w: {"photo": w.others_photo.pk}, **NOBODY_ELSE),
    Row("tiles:photo-original", kwargs=lambda w: {"photo": w.private_photo.pk}, **NOT_THERE),
    Row("tiles:photo-archive", "post", kwargs=photo, **STORED),
    Row(
        "tiles:photo-archive",
        "post",
        kwargs=lambda w: {"photo": w.others_photo.pk},
        technician=302,
        manager=302,
        **NOBODY_ELSE,
    ),
]
