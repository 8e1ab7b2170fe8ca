"""Buckets, reports, pots and tiles for the tests of the food-contact record."""

from datetime import timedelta

from django.utils import timezone

from tests import make
from tests.tiles.test_laboratory import figures
from tiles.actions.laboratory import create_report
from tiles.food import (
    PotLayer,
    record_of_pot,
)
from tiles.models import Firing

LOW = [*figures("Pb", *["<0.02"] * 6), *figures("Cd", *["<0.01"] * 6)]
HIGH = [*figures("Pb", *[4] * 6), *figures("Cd", *["<0.01"] * 6)]
TWO_PIECES = [*figures("Pb", 0.1, 0.1), *figures("Cd", 0.01, 0.01)]
CONE6 = make.cone("6")


def bought(label="food_safe", **fields):
    fields.setdefault("glaze_", make.glaze(origin="bought"))
    return make.fill(fields.pop("glaze_"), label=label, lot=fields.pop("lot", "B 7"), **fields)


def lab(*fills, rows=LOW, **fields):
    layers = [{"glaze": fill.glaze, "lot": fill.lot, "area": "whole"} for fill in fills]
    said = {
        "laboratory": "Sluice Analytics",
        "tested_on": timezone.localdate(),
        "standard": "us-fda",
        "category": "cups-and-mugs",
        "layers": layers,
    }
    return create_report(by=make.manager(), figures=rows, **{**said, **fields})


def pot(*fills, **ware):
    return record_of_pot([PotLayer(glaze=fill.glaze, fill=fill) for fill in fills], **ware)


def codes(record):
    return [line.code for line in record.lines]


def fired(*layers, target="6", by=None, **fields):
    """Glazed and fired yesterday, so that a report of today is of what it is."""
    yesterday = timezone.now() - timedelta(days=1)
    stack = [layer if isinstance(layer, dict) else {"fill": layer} for layer in layers]
    made = make.tile(by=by, layers=[{"applied_at": yesterday, **layer} for layer in stack], **fields)
    up_to = [{"position": "top", "cone": make.cone(target), "bend_degrees": 90}]
    firing = make.fire(make.firing(target=target), made, witness=up_to)
    Firing.objects.filter(pk=firing.pk).update(started_at=yesterday, unloaded_at=yesterday)
    return made
