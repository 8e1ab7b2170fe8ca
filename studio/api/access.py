"""Ways in: invitations and tokens. What opens them is shown once, and stored nowhere."""

from typing import Any, ClassVar

from django.urls import reverse
from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.decorators import action
from rest_framework.response import Response

from studio.actions.invitations import INVITATION_DAYS, invite, withdraw_invitation
from studio.actions.tokens import issue_token, revoke_token
from studio.addresses import handed_on
from studio.api.base import SEE, Reads
from studio.api.serializers import Nothing, PersonRef, Strict
from studio.models import Invitation, Token
from studio.roles import PERSON_ROLES, Role, require_in_person


class InvitationOut(serializers.ModelSerializer):
    person = PersonRef(allow_null=True)
    invited_by = PersonRef()
    is_open = serializers.BooleanField()

    class Meta:
        model = Invitation
        fields = [
            "id",
            "purpose",
            "role",
            "note",
            "person",
            "invited_by",
            "created_at",
            "expires_at",
            "used_at",
            "withdrawn_at",
            "is_open",
        ]


class InvitationMade(InvitationOut):
    address = serializers.URLField(
        allow_null=True, help_text="Shown once: a repeat with the same Idempotency-Key reads null."
    )

    class Meta(InvitationOut.Meta):
        fields = [*InvitationOut.Meta.fields, "address"]


class InvitationNew(Strict):
    role = serializers.ChoiceField([role.value for role in PERSON_ROLES], default=Role.MEMBER.value)
    note = serializers.CharField(max_length=120, required=False, allow_blank=True)
    days = serializers.IntegerField(min_value=1, max_value=90, default=INVITATION_DAYS)


class Invitations(Reads):
    """One-time joining links."""

    acts: ClassVar = dict.fromkeys([*SEE, "create", "withdraw"], "people.invite")
    model = Invitation
    serializer_class = InvitationOut
    shown_once = ("address",)
    without_version = True

    def rows(self, person: Any) -> Any:
        return Invitation.objects.select_related("person", "invited_by")

    @extend_schema(request=InvitationNew, responses={201: InvitationMade})
    def create(self, request: Any) -> Response:
        invitation, secret = invite(by=request.user, **self.input(InvitationNew))
        path = reverse("studio:join", args=[secret])
        address = handed_on(request, path)
        return Response({**self.represent(invitation), "address": address}, status=status.HTTP_201_CREATED)

    @extend_schema(request=None, responses=InvitationOut)
    @action(detail=True, methods=["post"])
    def withdraw(self, request: Any, pk: Any = None) -> Response:
        self.input(Nothing)
        return self.answer(withdraw_invitation(by=request.user, invitation=self.get_object()))


class TokenOut(serializers.ModelSerializer):
    in_force = serializers.BooleanField()

    class Meta:
        model = Token
        fields = [
            "id",
            "name",
            "kind",
            "scope",
            "created_at",
            "expires_at",
            "last_used_at",
            "revoked_at",
            "in_force",
        ]


class TokenMade(TokenOut):
    key = serializers.CharField(
        allow_null=True, help_text="Shown once: a repeat with the same Idempotency-Key reads null."
    )

    class Meta(TokenOut.Meta):
        fields = [*TokenOut.Meta.fields, "key"]


class TokenNew(Strict):
    name = serializers.CharField(max_length=80)
    scope = serializers.ChoiceField(Token.Scope.choices, default=Token.Scope.READ)
    kind = serializers.ChoiceField(Token.Kind.choices, default=Token.Kind.PERSON)
    days = serializers.IntegerField(min_value=1, max_value=730, default=90)


class Tokens(Reads):
    """One's own tokens. A device neither sees nor makes any: they are its owner's."""

    acts: ClassVar = dict.fromkeys([*SEE, "create", "revoke"], "token.own")
    model = Token
    serializer_class = TokenOut
    shown_once = ("key",)
    without_version = True

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        require_in_person(request.user)

    def rows(self, person: Any) -> Any:
        return Token.objects.filter(owner=person)

    @extend_schema(request=TokenNew, responses={201: TokenMade})
    def create(self, request: Any) -> Response:
        token, key = issue_token(by=request.user, **self.input(TokenNew))
        return Response({**self.represent(token), "key": key}, status=status.HTTP_201_CREATED)

    @extend_schema(request=None, responses=TokenOut)
    @action(detail=True, methods=["post"])
    def revoke(self, request: Any, pk: Any = None) -> Response:
        self.input(Nothing)
        return self.answer(revoke_token(by=request.user, token=self.get_object()))
