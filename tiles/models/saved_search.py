"""A search of the wall that a person wants to find again."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from studio.models import Aggregate
from tiles.queries_searches import SavedSearchQuerySet


class SavedSearch(Aggregate):
    """A question to the wall under a name. `query` is its query string, as the wall's address holds it."""

    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="saved_searches", editable=False
    )
    name = models.CharField(_("name"), max_length=80)
    query = models.CharField(_("search"), max_length=1000)
    is_shared = models.BooleanField(_("shared with the studio"), default=False)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = SavedSearchQuerySet.as_manager()

    class Meta:
        verbose_name = _("saved search")
        verbose_name_plural = _("saved searches")
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                "person",
                Lower("name"),
                condition=Q(archived_at__isnull=True),
                name="search_name_once_per_person",
                violation_error_message=_("You have a saved search of this name already. Give it another."),
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return f"{reverse('tiles:wall')}?{self.query}"
