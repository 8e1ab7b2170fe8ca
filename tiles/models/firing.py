"""A firing, its witness cones, and which tiles were where in it."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from studio.models import Aggregate, Record
from tiles.models.clay import ClayBody, Kiln


class Firing(Aggregate):
    """One run of a kiln. Its number is the studio's own and is never reused."""

    class Kind(models.TextChoices):
        BISQUE = "bisque", _("bisque")
        GLAZE = "glaze", _("glaze")
        REFIRE = "refire", _("refire")
        OVERGLAZE = "overglaze", _("overglaze or lustre")

    class State(models.TextChoices):
        PLANNED = "planned", _("planned")
        LOADING = "loading", _("loading")
        FIRING = "firing", _("firing")
        COOLING = "cooling", _("cooling")
        UNLOADED = "unloaded", _("unloaded")
        STOPPED = "stopped", _("stopped early")

    TAKES_TILES = (State.PLANNED, State.LOADING)
    BEEN_HOT = (State.COOLING, State.UNLOADED, State.STOPPED)
    BEGUN = (State.FIRING, *BEEN_HOT)

    class Atmosphere(models.TextChoices):
        OXIDATION = "oxidation", _("oxidation")
        REDUCTION = "reduction", _("reduction")
        NEUTRAL = "neutral", _("neutral")

    number = models.PositiveIntegerField(_("number"), unique=True, editable=False)
    kiln = models.ForeignKey(Kiln, verbose_name=_("kiln"), on_delete=models.PROTECT, related_name="firings")
    kind = models.CharField(_("kind"), max_length=9, choices=Kind, default=Kind.GLAZE)
    target_cone = ConeField(_("target cone"))
    atmosphere = models.CharField(
        _("atmosphere"), max_length=9, choices=Atmosphere, default=Atmosphere.OXIDATION
    )
    state = models.CharField(_("state"), max_length=8, choices=State, default=State.PLANNED, editable=False)
    planned_on = models.DateField(_("planned for"), null=True, blank=True)
    started_at = models.DateTimeField(_("started"), null=True, blank=True, editable=False)
    unloaded_at = models.DateTimeField(_("unloaded"), null=True, blank=True, editable=False)
    # What the controller's log comes to: the cone of its FiringLog.
    log_cone = ConeField(_("cone by its log"), null=True, blank=True, editable=False)
    schedule = models.TextField(_("schedule"), blank=True)
    # The segments of the schedule as they were when it was planned; see Schedule.
    plan = models.JSONField(_("plan"), default=list, blank=True)
    plan_name = models.CharField(max_length=120, blank=True, editable=False)
    kwh_read = models.DecimalField(
        _("read from the meter (kWh)"),
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    remark = models.TextField(_("remark"), blank=True)

    class Meta:
        verbose_name = _("firing")
        ordering = ["-number"]

    def __str__(self) -> str:
        return _("Firing %(number)s") % {"number": self.number}

    def get_absolute_url(self) -> str:
        return reverse("tiles:firing", args=[self.number])

    @property
    def takes_tiles(self) -> bool:
        return self.state in self.TAKES_TILES

    @property
    def has_fired(self) -> bool:
        return self.state in (self.State.COOLING, self.State.UNLOADED)


class WitnessCone(Record):
    """A cone that stood in the kiln and how far it bent: 0° as set, 90° when its tip is level with its base."""

    class ConeType(models.TextChoices):
        SELF_SUPPORTING = "self_supporting", _("self-supporting")
        LARGE = "large", _("large")
        SMALL = "small", _("small")

    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="witness_cones")
    position = models.CharField(_("position"), max_length=40, blank=True)
    cone = ConeField(_("cone"))
    cone_type = models.CharField(_("type"), max_length=15, choices=ConeType, default=ConeType.SELF_SUPPORTING)
    bend_degrees = models.PositiveSmallIntegerField(
        _("bend (°)"), null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(120)]
    )

    class Meta:
        verbose_name = _("witness cone")
        ordering = ["position", "cone"]
        constraints = [
            models.UniqueConstraint(
                fields=["firing", "position", "cone", "cone_type"], name="witness_cone_once"
            ),
            models.CheckConstraint(
                condition=Q(bend_degrees__isnull=True) | Q(bend_degrees__lte=120),
                name="witness_bend_possible",
            ),
        ]

    def __str__(self) -> str:
        return _("witness cone %(cone)s") % {"cone": self.cone}


class TileFiring(Record):
    """A tile in a firing: where it stood, and the cone that it saw by the decided order of evidence."""

    tile = models.ForeignKey("tiles.Tile", on_delete=models.PROTECT, related_name="tile_firings")
    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="tile_firings")
    position = models.CharField(_("position"), max_length=40, blank=True)
    cone = ConeField(null=True, blank=True, editable=False)
    cone_basis = models.CharField(max_length=16, blank=True, editable=False)
    cone_below = ConeField(null=True, blank=True, editable=False)
    override_reason = models.CharField(max_length=200, blank=True)

    class Meta:
        verbose_name = _("tile in a firing")
        ordering = ["firing__number"]
        constraints = [models.UniqueConstraint(fields=["tile", "firing"], name="tile_once_in_a_firing")]

    def __str__(self) -> str:
        return f"{self.tile} / {self.firing}"


class Piece(Record):
    """A member's own ware in a firing, beside the tiles: whose, what, how many, where."""

    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="pieces")
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, verbose_name=_("whose"), on_delete=models.PROTECT, related_name="pieces"
    )
    words = models.CharField(_("what"), max_length=120)
    count = models.PositiveSmallIntegerField(
        _("how many"), default=1, validators=[MinValueValidator(1), MaxValueValidator(500)]
    )
    body = models.ForeignKey(
        ClayBody,
        verbose_name=_("clay body"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="pieces",
    )
    position = models.CharField(_("position"), max_length=40, blank=True)
    override_reason = models.CharField(max_length=200, blank=True)
    taken_out_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("piece in a firing")
        ordering = ["position", "created_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(count__gte=1, count__lte=500),
                name="piece_count_possible",
                violation_error_message=_("Give a number from 1 to 500."),
            )
        ]

    def __str__(self) -> str:
        return f"{self.count} × {self.words}"
