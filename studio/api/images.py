"""Pictures over the API: a browser asks for image/*, and only problems are JSON."""

from typing import Any

from rest_framework import serializers
from rest_framework.negotiation import DefaultContentNegotiation

from studio import photos
from studio.api.serializers import Strict


class JsonOnlyInTrouble(DefaultContentNegotiation):
    """A browser asks for image/*; only problems are rendered by DRF here, and those are JSON."""

    def select_renderer(self, request: Any, renderers: Any, format_suffix: Any = None) -> tuple:
        return renderers[0], renderers[0].media_type


class SizeQuery(Strict):
    size = serializers.ChoiceField(list(photos.SIZES), default="medium")
