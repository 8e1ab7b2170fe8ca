"""What the studio says of a combination."""

from django import forms
from django.utils.translation import gettext_lazy as _

from studio.pages import VersionedForm


class RemarkForm(VersionedForm):
    remark = forms.CharField(
        label=_("The studio's remark"), required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
