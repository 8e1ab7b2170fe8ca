"""The first steps of a new studio that belong to the tiles."""

from django.utils.translation import gettext_lazy as _

from studio.registry import FirstStep
from tiles.models import ClayBody, Kiln

STEPS = [
    FirstStep(
        40,
        _("Add a clay body"),
        _("with the cones it is fired to"),
        "tiles:body-new",
        "body.change",
        ClayBody.objects.exists,
    ),
    FirstStep(
        50,
        _("Add a kiln"),
        _("and how hot it goes"),
        "tiles:kiln-new",
        "kiln.change",
        Kiln.objects.exists,
    ),
]
