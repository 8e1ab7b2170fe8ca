"""The role table at the API's door."""

from rest_framework.permissions import SAFE_METHODS, BasePermission

from studio.actions.tokens import require_write_scope
from studio.models import Token
from studio.roles import require


class RoleTable(BasePermission):
    """A view names the act of each method in `acts` (by action name, or by method); none named is none allowed."""

    def has_permission(self, request, view) -> bool:
        if not request.user.is_authenticated:
            return False
        name = getattr(view, "action", None) or request.method.lower()
        act = view.acts.get(name)
        if act is None:
            # An unserved method answers 405, not 403: let the view say so.
            return request.method not in view.allowed_methods
        require(request.user, act)
        # A calculator keeps nothing, so a token that may only read may ask it.
        if request.method not in SAFE_METHODS and not getattr(view, "only_reckons", False):
            require_write_scope(request.auth if isinstance(request.auth, Token) else None)
        return True
