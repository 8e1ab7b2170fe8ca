"""Serving a photo's files, after the caller has asked whether the person may see it."""

import logging

from django.core.files.storage import storages
from django.http import FileResponse, Http404, HttpRequest, HttpResponseBase
from django.utils.cache import get_conditional_response

from studio import photos

FOR_EVER = "private, max-age=31536000, immutable"
logger = logging.getLogger(__name__)


def sized_answer(request: HttpRequest, key: str, size: str) -> HttpResponseBase:
    """A served size: upright, sRGB, without metadata. It never changes, so the browser may keep it."""
    if size not in photos.SIZES:
        raise Http404
    etag = f'"{key}-{size}"'
    response: HttpResponseBase | None = get_conditional_response(request, etag=etag)
    if response is None:
        try:
            file = photos.open_size(storages["photos"], key, size)
        except FileNotFoundError:
            logger.error("The file %s of photo %s is missing from the storage", size, key)
            raise Http404 from None
        response = FileResponse(file, content_type="image/jpeg")
    response["Cache-Control"] = FOR_EVER
    response["X-Content-Type-Options"] = "nosniff"
    response["ETag"] = etag
    return response
