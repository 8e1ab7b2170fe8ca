"""Addresses under /api/. The page that explains them, `studio:api-docs`, is in `docs_urlpatterns`, which
studio/page_urls.py includes, because the names of pages are in its namespace.
"""

from typing import Any

from django.urls import include, path

from studio.api.access import Invitations, Tokens
from studio.api.docs import Schema, docs_page
from studio.api.history import History
from studio.api.people import Me, People
from studio.api.place import StudioSettings
from studio.api.routing import Router
from studio.api.today import Today

router = Router()
router.add("people", People)
router.add("invitations", Invitations)
router.add("tokens", Tokens)
router.add("changes", History)

ONE: Any = {"get": "retrieve", "patch": "partial_update"}

urlpatterns = [
    path("v1/schema/", Schema.as_view(), name="api-schema"),
    path("v1/me/", Me.as_view(ONE), name="api-me"),
    path("v1/today/", Today.as_view({"get": "retrieve"}), name="api-today"),
    path("v1/studio/", StudioSettings.as_view(ONE), name="api-studio"),
    path("v1/", include(router.urls)),
]
docs_urlpatterns = [path("api/", docs_page, name="api-docs")]
