"""The vessel with its lid code, and what is in it."""

import secrets

from django.conf import settings
from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from inventory.models.glaze import Glaze
from inventory.models.place import Place
from inventory.queries import BucketQuerySet, FillQuerySet
from studio.models import Aggregate

# No 0/O and no 1/I/L: the code is read aloud and copied by hand from a wet lid.
CODE_ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
CODE_LENGTH = 6


def new_code() -> str:
    return "".join(secrets.choice(CODE_ALPHABET) for _i in range(CODE_LENGTH))


class Bucket(Aggregate):
    """The vessel and its lid. A member's own jar has an owner and no shelf place."""

    code = models.CharField(
        _("lid code"),
        max_length=CODE_LENGTH,
        unique=True,
        default=new_code,
        editable=False,
        validators=[RegexValidator(f"^[{CODE_ALPHABET}]{{{CODE_LENGTH}}}$")],
    )
    place = models.ForeignKey(
        Place,
        verbose_name=_("place"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="buckets",
    )
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        verbose_name=_("own jar of"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="jars",
    )
    capacity_ml = models.PositiveIntegerField(
        _("holds (mL)"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    inner_height_mm = models.PositiveIntegerField(
        _("inside height (mm)"),
        null=True,
        blank=True,
        help_text=_("of a straight-sided vessel, for a dipstick"),
    )
    tare_g = models.PositiveIntegerField(_("weighs empty (g)"), null=True, blank=True)
    remark = models.TextField(_("remark"), blank=True)
    # What the paper on the lid says, line by line: compared with what is in the bucket now.
    label_printed_at = models.DateTimeField(null=True, blank=True, editable=False)
    label_printed_text = models.CharField(max_length=300, null=True, blank=True, editable=False)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = BucketQuerySet.as_manager()

    class Meta:
        verbose_name = _("bucket")
        ordering = ["code"]

    def __str__(self) -> str:
        return self.code

    def get_absolute_url(self) -> str:
        return reverse("bucket", args=[self.code])

    @property
    def fill(self) -> "Fill | None":
        """What is in it now; read from the prefetched list where there is one."""
        return next((f for f in self.fills.all() if f.ended_at is None), None)


class Level(models.TextChoices):
    FULL = "full", _("full")
    THREE_QUARTERS = "three_quarters", _("three quarters")
    HALF = "half", _("half")
    QUARTER = "quarter", _("a quarter")
    NEARLY_EMPTY = "nearly_empty", _("nearly empty")
    EMPTY = "empty", _("empty")


class Label(models.TextChoices):
    """What a bought product's container prints, quoted. Empty: nobody has read it."""

    FOOD_SAFE = "food_safe", _("“food safe”")
    DINNERWARE_SAFE = "dinnerware_safe", _("“dinnerware safe”")
    NOT_FOR_FOOD = "not_for_food", _("“not for food”")
    NONE = "none", _("nothing about food")


class ChildFit(models.TextChoices):
    """What the container says of children, quoted. Empty: nobody has read it."""

    YES = "yes", _("the container names it fit for children")
    NO = "no", _("the container warns against it")
    NOTHING = "nothing", _("the container says nothing about children")


class Fill(Aggregate):
    """What is in a bucket, from until: the thing that readings, flags, stock entries and layers point at."""

    bucket = models.ForeignKey(
        Bucket, verbose_name=_("bucket"), on_delete=models.PROTECT, related_name="fills"
    )
    glaze = models.ForeignKey(Glaze, verbose_name=_("glaze"), on_delete=models.PROTECT, related_name="fills")
    lot = models.CharField(_("batch or lot"), max_length=60, blank=True)
    made_on = models.DateField(_("mixed or opened on"), null=True, blank=True)
    started_at = models.DateTimeField(_("in this bucket since"))
    ended_at = models.DateTimeField(_("until"), null=True, blank=True, editable=False)
    ended_why = models.CharField(_("how it ended"), max_length=120, blank=True, editable=False)
    level = models.CharField(_("level"), max_length=14, choices=Level, blank=True)
    balance_ml = models.DecimalField(
        _("volume (mL)"), max_digits=9, decimal_places=1, null=True, blank=True, editable=False
    )
    label = models.CharField(_("its label says"), max_length=16, choices=Label, blank=True)
    label_condition = models.CharField(
        _("on condition"),
        max_length=160,
        blank=True,
        help_text=_("as printed: a cone, used alone, under a clear"),
    )
    child_fit = models.CharField(_("for children"), max_length=8, choices=ChildFit, blank=True)
    child_fit_read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        editable=False,
    )
    child_fit_read_on = models.DateField(null=True, blank=True, editable=False)
    container_size = models.CharField(_("size of the container"), max_length=40, blank=True)
    price = models.DecimalField(_("price paid"), max_digits=9, decimal_places=2, null=True, blank=True)
    # The version of the recipe that was mixed, once recipes are kept.
    recipe_version = models.UUIDField(null=True, blank=True, editable=False)
    label_read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
        editable=False,
    )
    label_read_on = models.DateField(null=True, blank=True, editable=False)
    remark = models.TextField(_("remark"), blank=True)

    objects = FillQuerySet.as_manager()

    class Meta:
        verbose_name = _("fill")
        ordering = ["-started_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["bucket"],
                condition=Q(ended_at__isnull=True),
                name="fill_one_open_per_bucket",
                violation_error_message=_("This bucket is full of something else: end that first."),
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gte=models.F("started_at")),
                name="fill_ends_after_start",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.glaze.name} ({self.bucket.code})"

    @property
    def is_for_children(self) -> bool:
        """Its own container was read as naming it fit for children. What is mixed here has none."""
        return self.child_fit == ChildFit.YES and self.glaze.origin == Glaze.Origin.BOUGHT

    @property
    def standing(self):
        """The Standing of a fill that was read `with_standing`: reasons from its own columns."""
        from inventory.queries import standing_of

        return standing_of(self)
