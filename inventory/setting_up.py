"""The first steps of a new studio that belong to the shelf."""

from django.utils.translation import gettext_lazy as _

from inventory.models import Fill, Glaze, Place
from studio.registry import FirstStep

STEPS = [
    FirstStep(
        10,
        _("Add a place"),
        _("a shelf, a board"),
        "inventory:place-new",
        "place.change",
        Place.objects.exists,
    ),
    FirstStep(
        20,
        _("Add a glaze"),
        _("bought or mixed"),
        "inventory:glaze-new",
        "glaze.change",
        Glaze.objects.exists,
    ),
    FirstStep(
        30,
        _("Set up a bucket"),
        _("and say what is in it"),
        "inventory:bucket-new",
        "bucket.change",
        Fill.objects.exists,
    ),
]
