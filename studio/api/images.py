"""Pictures over the API: a browser asks for image/*, and only problems are JSON."""

from typing import Any, ClassVar

from rest_framework import serializers
from rest_framework.negotiation import DefaultContentNegotiation

from studio import photos
from studio.actions.photos import prepare_photo
from studio.api.serializers import Strict


class JsonOnlyInTrouble(DefaultContentNegotiation):
    """A browser asks for image/*; only problems are rendered by DRF here, and those are JSON."""

    def select_renderer(self, request: Any, renderers: Any, format_suffix: Any = None) -> tuple:
        return renderers[0], renderers[0].media_type


class SizeQuery(Strict):
    size = serializers.ChoiceField(list(photos.SIZES), default="medium")


class TakesPhotos:
    """Before a resource: the photo that `photo_action` takes is made ready before the transaction begins.

    `sent_photo(values)` takes the photo out of what was sent: made ready, or the file itself where that was not due.
    """

    photo_action: ClassVar[str] = "add_photo"
    prepared: Any = None

    def prepare(self, request: Any) -> None:
        file = request.data.get("photo")
        if getattr(self, "action", "") == self.photo_action and hasattr(file, "chunks"):
            self.prepared = prepare_photo(file)

    def sent_photo(self, values: dict[str, Any]) -> Any:
        file = values.pop("photo")
        return self.prepared or file
