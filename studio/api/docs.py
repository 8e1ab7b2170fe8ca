"""The OpenAPI document, and a page to read and try it. Both need a log-in."""

from typing import Any, ClassVar

from django.contrib.auth.decorators import login_required
from drf_spectacular.utils import extend_schema
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView
from rest_framework.renderers import JSONRenderer
from rest_framework.settings import api_settings

from studio.api.permissions import RoleTable


class Schema(SpectacularAPIView):
    """OpenAPI 3, as YAML or (`Accept: application/json` or `?format=json`) JSON."""

    acts: ClassVar = {"get": "studio.see"}
    permission_classes = (RoleTable,)
    authentication_classes = api_settings.DEFAULT_AUTHENTICATION_CLASSES
    metadata_class = None

    @extend_schema(exclude=True)
    def get(self, request: Any, *args: Any, **kwargs: Any) -> Any:
        return super().get(request, *args, **kwargs)

    def finalize_response(self, request: Any, response: Any, *args: Any, **kwargs: Any) -> Any:
        if response.status_code >= 400:
            request.accepted_renderer = JSONRenderer()
        return super().finalize_response(request, response, *args, **kwargs)


class Docs(SpectacularSwaggerSplitView):
    """Its script comes from an address of its own, and its page has no inline style: the CSP stays strict."""

    url_name = "api-schema"
    template_name = "studio/api_docs.html"
    authentication_classes = api_settings.DEFAULT_AUTHENTICATION_CLASSES
    permission_classes = ()


docs_page = login_required(Docs.as_view())
