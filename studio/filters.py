"""What can be asked of the history."""

import django_filters as df
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from studio import registry
from studio.filtering import StrictFilterSet
from studio.models import Change, Person


def kinds() -> list[tuple[str, str]]:
    return sorted(((kind.label, str(kind.name)) for kind in registry.kinds.values()), key=lambda row: row[1])


class ChangeFilter(StrictFilterSet):
    q = df.CharFilter(method="by_words", label=_("words"))
    kind = df.ChoiceFilter(choices=kinds, label=_("kind"), empty_label=_("any"))
    object = df.UUIDFilter(field_name="object_id", label=_("record"))
    actor = df.ModelChoiceFilter(queryset=Person.objects.all(), label=_("by whom"), empty_label=_("anybody"))
    verb = df.AllValuesFilter(field_name="verb", label=_("what was done"), empty_label=_("anything"))

    class Meta:
        model = Change
        fields: list[str] = []

    def by_words(self, queryset, name, value):
        for word in value.split():
            queryset = queryset.filter(
                Q(object_text__icontains=word) | Q(reason__icontains=word) | Q(actor_name__icontains=word)
            )
        return queryset
