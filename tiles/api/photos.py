"""Photos: always streamed by the service, after asking whether the person may see the tile."""

import logging
from typing import Any, ClassVar

from django.core.files.storage import storages
from django.http import FileResponse, Http404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory.api.glazes import WhyIn
from studio import photos
from studio.api.base import SEE, Reads
from studio.api.images import JsonOnlyInTrouble
from studio.api.serializers import Strict, checked
from tiles import actions
from tiles.actions.photos import require_original
from tiles.api.parts import PhotoOut
from tiles.models import Photo, Tile

ORIGINAL = "original"
logger = logging.getLogger(__name__)


class ImageQuery(Strict):
    size = serializers.ChoiceField([*photos.SIZES, ORIGINAL], default="medium")


class Photos(Reads):
    """Send one by POST to the tile's own `photos`."""

    acts: ClassVar = {**SEE, "image": "studio.see", "archive": "tile.log"}
    model = Photo
    serializer_class = PhotoOut
    without_version = True

    def rows(self, person: Any) -> Any:
        shown = Photo.objects.filter(archived_at=None, tile__in=Tile.objects.visible_to(person))
        return shown.select_related("by", "tile")

    @extend_schema(parameters=[ImageQuery], responses={(200, "image/*"): OpenApiTypes.BINARY})
    @action(detail=True, content_negotiation_class=JsonOnlyInTrouble)
    def image(self, request: Any, pk: Any = None) -> FileResponse:
        """A JPEG without metadata; `original` as it was sent, for its sender, the tile's maker and technicians."""
        photo = self.get_object()
        size = checked(ImageQuery, request.query_params.dict())["size"]
        storage = storages["photos"]
        if size == ORIGINAL:
            require_original(request.user, photo)
        try:
            file = (
                photos.open_original(storage, photo.key, photo.kind)
                if size == ORIGINAL
                else photos.open_size(storage, photo.key, size)
            )
        except FileNotFoundError:
            logger.error("The file %s of photo %s is missing from the storage", size, photo.key)
            raise Http404 from None
        kind = photo.kind if size == ORIGINAL else "jpeg"
        name = f"{photo.tile.number}-{photo.pk}.{kind}"
        response = FileResponse(
            file, content_type=f"image/{kind}", as_attachment=size == ORIGINAL, filename=name
        )
        # Its files never change; whoever may see them may change, so no shared cache keeps them.
        response["Cache-Control"] = "private, max-age=86400"
        response["ETag"] = f'"{photo.pk}-{size}"'
        return response

    @extend_schema(request=WhyIn, responses={204: None})
    @action(detail=True, methods=["post"])
    def archive(self, request: Any, pk: Any = None) -> Response:
        """Off the tile's page; its file and its history stay."""
        actions.archive_photo(by=request.user, photo=self.get_object(), **self.input(WhyIn))
        return Response(status=204)
