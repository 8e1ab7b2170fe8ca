"""Trials at home over the API: a screen on a fired tile, with photos before and after."""

from typing import Any, ClassVar

from django.http.response import HttpResponseBase
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from inventory.api.base import In, Out
from inventory.api.glazes import WhyIn
from studio.api.base import SEE, Reads
from studio.api.images import JsonOnlyInTrouble, SizeQuery, TakesPhotos
from studio.api.serializers import IdOf, NewId, PersonRef, Strict, checked
from studio.photo_answers import sized_answer
from tiles.actions.home_trials import (
    add_trial_photo,
    archive_trial_photo,
    begin_trial,
    end_trial,
    take_trial_back,
)
from tiles.filters_laboratory import HomeTrialFilter
from tiles.models import HomeTrial, HomeTrialPhoto, Tile

RESULTS = [result for result in HomeTrial.Result.values if result]
OF_PHOTO = OpenApiParameter("photo_id", {"type": "string", "format": "uuid"}, OpenApiParameter.PATH)


class HomeTrialPhotoOut(Out):
    """Its picture is at `home-trials/{id}/photos/{photo_id}/`."""

    by = PersonRef()

    class Meta:
        model = HomeTrialPhoto
        fields = ["id", "created_at", "stage", "width", "height", "by"]


class HomeTrialOut(Out):
    """`result` is empty while it runs. A screen only: what is not yet failed says nothing of what goes into food."""

    tile = serializers.UUIDField(source="tile_id")
    by = PersonRef()
    photos = HomeTrialPhotoOut(many=True)

    class Meta:
        model = HomeTrial
        fields = [
            *("id", "created_at", "tile", "kind", "done", "begun_on"),
            *("ended_on", "result", "seen", "by", "taken_back_at", "photos"),
        ]


class HomeTrialNew(NewId, In):
    tile = IdOf(Tile)

    class Meta:
        model = HomeTrial
        fields = ["id", "tile", "kind", "done", "begun_on"]


class TrialEndIn(Strict):
    result = serializers.ChoiceField(RESULTS)
    seen = serializers.CharField(required=False, allow_blank=True, max_length=200)
    ended_on = serializers.DateField(required=False)


class TrialBackIn(Strict):
    reason = serializers.CharField(max_length=200)


class HomeTrialPhotoNew(NewId):
    photo = serializers.FileField(allow_empty_file=True)
    stage = serializers.ChoiceField(HomeTrialPhoto.Stage.values)


class HomeTrials(TakesPhotos, Reads):
    """Begun on a fired tile, ended with what came of it. Nothing is deleted: what was taken back says when."""

    acts: ClassVar = {
        **SEE,
        **dict.fromkeys(["create", "end", "take_back", "add_photo", "archive_photo"], "home_trial.note"),
        "image": "studio.see",
    }
    model = HomeTrial
    serializer_class = HomeTrialOut
    filterset_class = HomeTrialFilter
    without_version = True

    def rows(self, person: Any) -> Any:
        return HomeTrial.objects.visible_to(person).with_photos()

    @extend_schema(request=HomeTrialNew)
    def create(self, request: Any) -> Response:
        return self.answer(begin_trial(by=request.user, **self.input(HomeTrialNew)), 201)

    @extend_schema(request=TrialEndIn)
    @action(detail=True, methods=["post"])
    def end(self, request: Any, pk: Any = None) -> Response:
        trial = self.get_object()
        return self.answer(end_trial(by=request.user, trial=trial, **self.input(TrialEndIn)))

    @extend_schema(request=TrialBackIn)
    @action(detail=True, methods=["post"], url_path="take-back")
    def take_back(self, request: Any, pk: Any = None) -> Response:
        trial = self.get_object()
        return self.answer(take_trial_back(by=request.user, trial=trial, **self.input(TrialBackIn)))

    @extend_schema(request=HomeTrialPhotoNew, responses={201: HomeTrialPhotoOut})
    @action(detail=True, methods=["post"], url_path="photos", parser_classes=[MultiPartParser])
    def add_photo(self, request: Any, pk: Any = None) -> Response:
        """Multipart: JPEG, PNG, WebP or HEIC, `stage` before or after."""
        trial, values = self.get_object(), self.input(HomeTrialPhotoNew)
        file = self.sent_photo(values)
        photo = add_trial_photo(by=request.user, trial=trial, file=file, **values)
        return self.part(trial, photo, HomeTrialPhotoOut)

    @extend_schema(parameters=[OF_PHOTO, SizeQuery], responses={(200, "image/*"): OpenApiTypes.BINARY})
    @action(
        detail=True,
        url_path="photos/<uuid:photo_id>",
        url_name="photo",
        content_negotiation_class=JsonOnlyInTrouble,
    )
    def image(self, request: Any, pk: Any = None, photo_id: Any = None) -> HttpResponseBase:
        """A JPEG without metadata. The file as sent may say where it was taken, and is served to nobody."""
        photo = self._photo(photo_id)
        asked = checked(SizeQuery, request.query_params.dict())
        return sized_answer(request, photo.key, asked["size"])

    @extend_schema(parameters=[OF_PHOTO], request=WhyIn, responses={204: None})
    @action(
        detail=True, methods=["post"], url_path="photos/<uuid:photo_id>/archive", url_name="photo-archive"
    )
    def archive_photo(self, request: Any, pk: Any = None, photo_id: Any = None) -> Response:
        """Off the tile's page; its file and its history stay."""
        archive_trial_photo(by=request.user, photo=self._photo(photo_id), **self.input(WhyIn))
        return Response(status=204)

    def _photo(self, photo_id: Any) -> HomeTrialPhoto:
        shown = self.get_object().photos.filter(archived_at=None)
        return get_object_or_404(shown.select_related("trial__tile"), pk=photo_id)
