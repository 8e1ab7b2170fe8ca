"""How a tile came out, and its photos."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models import Opacity, Surface
from studio.models import Record, StoredPhoto
from tiles.fault_places import place_words
from tiles.models.combination import Combination
from tiles.models.firing import Firing
from tiles.models.tile import Tile
from tiles.queries_looks import LoosePhotoQuerySet, StandingFaults, StandingLooks


class Outcome(Record):
    """One look at a fired tile, or at a zone of it. Later looks are added: crazing may come weeks later."""

    class Verdict(models.TextChoices):
        AGAIN = "again", _("again")
        CHANGE = "change", _("again with a change")
        NOT_AGAIN = "not_again", _("not again")

    class Zone(models.TextChoices):
        WHOLE = "whole", _("the whole tile")
        OVERLAP = "overlap", _("the overlap")
        ALONE = "alone", _("one layer alone")

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="outcomes")
    firing = models.ForeignKey(
        Firing,
        verbose_name=_("after firing"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="outcomes",
    )
    zone = models.CharField(_("which part"), max_length=7, choices=Zone, default=Zone.WHOLE)
    # The glazes looked at, so that an outcome outlives later corrections of the layers.
    combination = models.ForeignKey(
        Combination, null=True, blank=True, on_delete=models.PROTECT, related_name="outcomes"
    )
    looked_on = models.DateField(_("looked at on"), default=timezone.localdate)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False
    )
    surface = models.CharField(_("surface"), max_length=6, choices=Surface, blank=True)
    opacity = models.CharField(_("opacity"), max_length=12, choices=Opacity, blank=True)
    movement_mm = models.DecimalField(
        _("moved down (mm)"),
        max_digits=5,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(300)],
    )
    colour = models.CharField(_("colour in words"), max_length=120, blank=True)
    verdict = models.CharField(_("verdict"), max_length=9, choices=Verdict, blank=True)
    damage = models.CharField(
        _("damage"), max_length=160, blank=True, help_text=_("such as: ran onto the shelf")
    )
    remark = models.TextField(_("remark"), blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True, editable=False)
    taken_back_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        editable=False,
    )
    taken_back_why = models.CharField(max_length=200, blank=True, editable=False)

    # What was taken back counts for nothing, wherever looks are asked: only the story asks for it by name.
    objects = StandingLooks()
    with_taken_back = models.Manager()

    class Meta:
        verbose_name = _("outcome")
        ordering = ["-looked_on", "-created_at"]
        constraints = [
            models.CheckConstraint(
                name="look_taken_back_is_whole",
                condition=Q(taken_back_at__isnull=True, taken_back_by__isnull=True, taken_back_why="")
                | Q(taken_back_at__isnull=False, taken_back_by__isnull=False) & ~Q(taken_back_why=""),
            )
        ]

    def __str__(self) -> str:
        return _("look at %(tile)s") % {"tile": self.tile}


class OutcomeFault(models.Model):
    """One fault seen in one look, and where on the tile."""

    class Kind(models.TextChoices):
        CRAZING = "crazing", _("crazing")
        SHIVERING = "shivering", _("shivering")
        CRAWLING = "crawling", _("crawling")
        PINHOLING = "pinholing", _("pinholing")
        BLISTERING = "blistering", _("blistering")
        RUNNING = "running", _("running")
        UNDERFIRED = "underfired", _("under-fired, dry")
        SPLUTTERING = "spluttering", _("spluttering")
        SPIT_OUT = "spit_out", _("spit-out")
        DUNTING = "dunting", _("dunting")
        BLOATING = "bloating", _("bloating")
        ETCHING = "etching", _("etched or leached")
        DEVITRIFICATION = "devitrification", _("unwanted crystals")
        ORANGE_PEEL = "orange_peel", _("orange peel")
        CUTLERY_MARKING = "cutlery_marking", _("cutlery marking")
        FLAKING = "flaking", _("flaking or dusting before the kiln")
        JUMPING = "jumping", _("colour jumped from a neighbour")
        OTHER = "other", _("another fault")

    outcome = models.ForeignKey(Outcome, on_delete=models.CASCADE, related_name="faults")
    kind = models.CharField(_("fault"), max_length=16, choices=Kind)
    where = models.CharField(_("where"), max_length=80, blank=True)

    objects = StandingFaults()
    with_taken_back = models.Manager()  # noqa: DJ012 (no field)

    class Meta:
        verbose_name = _("fault")
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["outcome", "kind", "where"], name="fault_once_per_place")
        ]

    def __str__(self) -> str:
        return str(self.get_kind_display())

    @property
    def where_words(self) -> str:
        return place_words(self.where)


class Photo(StoredPhoto):
    """A photo of a tile."""

    class Stage(models.TextChoices):
        BARE = "bare", _("bare")
        GLAZED = "glazed", _("glazed, before the kiln")
        FIRED = "fired", _("fired")
        LATER = "later", _("later, or after a trial")

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="photos")
    outcome = models.ForeignKey(
        Outcome, null=True, blank=True, on_delete=models.PROTECT, related_name="photos"
    )
    taken_at = models.DateTimeField(_("taken"), null=True, blank=True)
    stage = models.CharField(_("shows it"), max_length=6, choices=Stage, default=Stage.FIRED)
    caption = models.CharField(_("caption"), max_length=160, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("photo")
        ordering = ["-created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["tile", "sha256"],
                condition=Q(archived_at__isnull=True),
                name="photo_once_per_tile",
                violation_error_message=_("This photo is on the tile already."),
            )
        ]

    def __str__(self) -> str:
        return self.caption or _("photo of %(tile)s") % {"tile": self.tile}


class LoosePhoto(StoredPhoto):
    """A photo taken while a kiln was unloaded and not sorted to its tile yet. Picked, it becomes a Photo."""

    firing = models.ForeignKey(Firing, on_delete=models.PROTECT, related_name="loose_photos")
    taken_at = models.DateTimeField(null=True, blank=True, editable=False)
    photo = models.OneToOneField(
        Photo, null=True, blank=True, on_delete=models.PROTECT, related_name="+", editable=False
    )
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = LoosePhotoQuerySet.as_manager()

    class Meta:
        verbose_name = _("photo to be sorted")
        ordering = ["created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["firing", "sha256"],
                condition=Q(archived_at__isnull=True),
                name="loose_photo_once_per_firing",
                violation_error_message=_("This photo is here already."),
            )
        ]

    def __str__(self) -> str:
        return _("photo to be sorted from %(firing)s") % {"firing": self.firing}
