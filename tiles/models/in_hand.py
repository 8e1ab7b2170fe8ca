"""What a person is in the middle of: kept on the server, because a phone sleeps. Pointers, not records: no history."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from tiles.models.tile import Tile


class TileInHand(models.Model):
    """The tile that a person is glazing: a scanned bucket offers its next coat."""

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, primary_key=True, on_delete=models.CASCADE, related_name="in_hand"
    )
    tile = models.ForeignKey(Tile, on_delete=models.CASCADE, related_name="+")
    since = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"{self.person}: {self.tile}"


class SetInHand(models.Model):
    """The tiles that a person is glazing all alike: each layer said once goes onto all of them."""

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, primary_key=True, on_delete=models.CASCADE, related_name="set_in_hand"
    )
    tiles = models.ManyToManyField(Tile, related_name="+")
    since = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"{self.person}: {self.tiles.count()}"


class LookDraft(models.Model):
    """What a person has tapped of a look at a tile and not kept yet."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="look_drafts")
    tile = models.ForeignKey(Tile, on_delete=models.CASCADE, related_name="+")
    # Field name -> list of values, as the form sent them; they are judged when the look is kept.
    data = models.JSONField(default=dict)
    touched_at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "tile"], name="one_look_draft_each")]

    def __str__(self) -> str:
        return f"{self.person}: {self.tile}"
