"""What can be asked of the photos that wait to be sorted."""

import django_filters as df

from studio.filtering import StrictFilterSet, YesNo
from tiles.models import Firing, LoosePhoto


class LooseFilter(StrictFilterSet):
    """Without `unsorted`: also those that are on a tile, and those that were dropped."""

    firing = df.ModelChoiceFilter(queryset=Firing.objects.all())
    unsorted = YesNo(method="only_unsorted")

    class Meta:
        model = LoosePhoto
        fields = ["firing", "unsorted"]

    def only_unsorted(self, rows, name, value):
        waiting = LoosePhoto.objects.unsorted()
        return rows.filter(pk__in=waiting) if value else rows.exclude(pk__in=waiting)
