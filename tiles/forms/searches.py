"""A saved search as it is written down."""

from django import forms

from inventory.forms.parts import RecordForm
from tiles.models import SavedSearch


class SearchForm(RecordForm):
    class Meta:
        model = SavedSearch
        fields = ["name", "query", "is_shared"]
        widgets = {"query": forms.HiddenInput}

    def _get_validation_exclusions(self) -> set[str]:
        # Names are compared by the action, which knows whose they are.
        return {*super()._get_validation_exclusions(), "person"}
