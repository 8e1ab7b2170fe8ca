"""What the stateless calculators have in common: nothing is read from the studio's records and nothing is kept."""

from typing import Any, ClassVar

from django.conf import settings
from django.utils.translation import gettext_lazy as _
from rest_framework import exceptions, status, viewsets

from studio.api.idempotency import Idempotent


class TooMuch(exceptions.APIException):
    status_code = status.HTTP_413_REQUEST_ENTITY_TOO_LARGE
    default_detail = _("That is more than is read at once. Send fewer values.")


class Calculator(Idempotent, viewsets.GenericViewSet):
    """Reckons for whoever is logged in, with a token that may only read too. A subclass names its method in `acts`,
    describes what it takes in a `Strict` serializer, and raises Refused({field: sentence}) for what it cannot use.
    """

    acts: ClassVar[dict[str, str]] = {}
    only_reckons = True
    without_version = True
    http_method_names = ("post",)
    filter_backends = ()
    pagination_class = None

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        if int(request.META.get("CONTENT_LENGTH") or 0) > settings.DATA_UPLOAD_MAX_MEMORY_SIZE:
            raise TooMuch
        super().initial(request, *args, **kwargs)
