"""A bearer token for programs, the page's own session for a browser."""

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, SessionAuthentication, get_authorization_header
from rest_framework.exceptions import AuthenticationFailed

from studio.actions.tokens import person_of_key


class TokenAuthentication(BaseAuthentication):
    """`Authorization: Bearer tilekeep_...`"""

    def authenticate(self, request):
        words = get_authorization_header(request).split()
        if not words or words[0].lower() != b"bearer":
            return None
        found = person_of_key(words[1].decode("latin-1")) if len(words) == 2 else None
        if found is None:
            raise AuthenticationFailed("This token is not known, has run out or was revoked. Make a new one.")
        return found

    def authenticate_header(self, request):
        return 'Bearer realm="tilekeep"'


class PageSessionAuthentication(SessionAuthentication):
    """The log-in of the pages, with its CSRF check. A station's visit is for pages only."""

    def authenticate(self, request):
        if getattr(request._request, "station", None) is not None:
            raise AuthenticationFailed("A station writes through its pages. Programs use a token.")
        return super().authenticate(request)


class TokenScheme(OpenApiAuthenticationExtension):
    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema):
        return {"type": "http", "scheme": "bearer", "description": "A token made on the account page."}


class SessionScheme(OpenApiAuthenticationExtension):
    target_class = PageSessionAuthentication
    name = "session"
    priority = 1

    def get_security_definition(self, auto_schema):
        return {"type": "apiKey", "in": "cookie", "name": "sessionid"}
