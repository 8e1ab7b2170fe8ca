"""Reads of laboratory reports and trials at home: who sees which, and which still count."""

from typing import Any, Self

from django.db import models
from django.db.models import Q


class LabReportQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Every report, unless it is of a tile that the person may not see."""
        tiles = self.model._meta.get_field("tile").related_model.objects.visible_to(person)
        return self.filter(Q(tile=None) | Q(tile__in=tiles))

    def standing(self) -> Self:
        """Those that were not withdrawn."""
        return self.filter(withdrawn_at=None)

    def with_parts(self) -> Self:
        """With everything that a judgement reads."""
        return self.select_related("tile", "body", "by").prefetch_related("layers__glaze", "values")


class HomeTrialQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Those on tiles that the person may see."""
        tiles = self.model._meta.get_field("tile").related_model.objects.visible_to(person)
        return self.filter(tile__in=tiles)

    def standing(self) -> Self:
        """Those that were not taken back."""
        return self.filter(taken_back_at=None)

    def with_photos(self) -> Self:
        """With who did it and the photos that are shown, the oldest first."""
        photos = self.model._meta.get_field("photos").related_model.objects.filter(archived_at=None)
        shown = models.Prefetch("photos", photos.select_related("by").order_by("created_at"))
        return self.select_related("by", "tile").prefetch_related(shown)
