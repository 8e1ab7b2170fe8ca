"""`{% before_and_after photos as pair %}` puts a tile's photos into two groups that stand side by side."""

from collections.abc import Iterable

from django import template
from django.utils.translation import gettext as _

from tiles.models import Photo

register = template.Library()
BEFORE = (Photo.Stage.BARE, Photo.Stage.GLAZED)


@register.simple_tag
def before_and_after(photos: Iterable[Photo]) -> list[tuple[str, list[Photo]]]:
    """Words and photos of each group, the photos in the order given."""
    shown = list(photos)
    return [
        (_("Before the kiln"), [photo for photo in shown if photo.stage in BEFORE]),
        (_("After it"), [photo for photo in shown if photo.stage not in BEFORE]),
    ]
