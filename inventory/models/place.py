"""Where a thing stands or hangs."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models import Aggregate


class Place(Aggregate):
    """A room, shelf, board or hook; a hook may be on a board, a shelf in a room."""

    class Kind(models.TextChoices):
        ROOM = "room", _("room")
        SHELF = "shelf", _("shelf")
        BOARD = "board", _("board")
        HOOK = "hook", _("hook")
        OTHER = "other", _("other place")

    name = models.CharField(_("name"), max_length=80)
    kind = models.CharField(_("kind"), max_length=6, choices=Kind, default=Kind.SHELF)
    parent = models.ForeignKey(
        "self",
        verbose_name=_("in or on"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="parts",
    )
    order = models.PositiveSmallIntegerField(_("order when walking"), default=0)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("place")
        ordering = ["order", "name"]
        constraints = [
            # Two constraints: SQLite knows no index in which one NULL equals another.
            models.UniqueConstraint(
                fields=["parent", "name"],
                condition=models.Q(parent__isnull=False),
                name="place_name_once_inside",
                violation_error_message=_("There is a place of this name already."),
            ),
            models.UniqueConstraint(
                fields=["name"],
                condition=models.Q(parent__isnull=True),
                name="place_name_once_outside",
                violation_error_message=_("There is a place of this name already."),
            ),
        ]

    def __str__(self) -> str:
        return self.name
