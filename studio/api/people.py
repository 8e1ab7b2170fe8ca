"""Oneself, and the people of the studio."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from studio.actions.leaving import make_former
from studio.actions.people import change_person, set_preferences
from studio.api.base import SEE, Reads
from studio.api.serializers import Nothing, Strict, StrictModel
from studio.models import Person
from studio.roles import PERSON_ROLES, may, role_of


class MeOut(serializers.ModelSerializer):
    """`acting_role` is what this log-in or token may do: a device acts as a member, whoever owns it."""

    acting_role = serializers.SerializerMethodField()

    class Meta:
        model = Person
        fields = ["id", "username", "name", "role", "acting_role", "temperature_unit", "units"]

    def get_acting_role(self, person: Person) -> str:
        return role_of(person).value


class MeChange(StrictModel):
    class Meta:
        model = Person
        fields = ["name", "temperature_unit", "units"]


class Me(Reads):
    """Whoever asks: name, role, and the units on screen."""

    acts: ClassVar = {"retrieve": "studio.see", "partial_update": "studio.see"}
    model = Person
    serializer_class = MeOut
    filter_backends = ()
    without_version = True

    def represent(self, record: Any) -> dict:
        return MeOut(record).data

    @extend_schema(operation_id="me_retrieve")
    def retrieve(self, request: Any, pk: Any = None) -> Response:
        return self.answer(request.user)

    @extend_schema(operation_id="me_partial_update", request=MeChange)
    def partial_update(self, request: Any, pk: Any = None) -> Response:
        kept = {field: getattr(request.user, field) for field in MeChange.Meta.fields}
        values = self.changes(MeChange)
        return self.answer(set_preferences(by=request.user, **{**kept, **values}))


class PersonOut(serializers.ModelSerializer):
    """The log-in name is for those who may change people; null to others."""

    username = serializers.SerializerMethodField()

    class Meta:
        model = Person
        fields = ["id", "name", "role", "is_active", "username", "created_at"]

    def get_username(self, person: Person) -> str | None:
        request = self.context.get("request")
        return person.username if request is not None and may(request.user, "people.change") else None


class PersonChange(Strict):
    role = serializers.ChoiceField([role.value for role in PERSON_ROLES], required=False)
    is_active = serializers.BooleanField(required=False)
    name = serializers.CharField(max_length=120, required=False)
    reason = serializers.CharField(required=False, allow_blank=True)


class People(Reads):
    """Everybody with an account. A leaver is made inactive, never deleted."""

    acts: ClassVar = {
        **dict.fromkeys(SEE, "people.see"),
        **dict.fromkeys(["partial_update", "forget"], "people.change"),
    }
    model = Person
    serializer_class = PersonOut
    without_version = True

    def rows(self, person: Any) -> Any:
        return Person.objects.all() if may(person, "people.see") else Person.objects.none()

    @extend_schema(request=PersonChange)
    def partial_update(self, request: Any, pk: Any = None) -> Response:
        person, values = self.get_object(), self.changes(PersonChange)
        reason = values.pop("reason", "")
        return self.answer(change_person(by=request.user, person=person, values=values, reason=reason))

    @extend_schema(request=None, responses=PersonOut)
    @action(detail=True, methods=["post"])
    def forget(self, request: Any, pk: Any = None) -> Response:
        """Make a leaver 'former member 12' everywhere, history included. This cannot be undone."""
        self.input(Nothing)
        return self.answer(make_former(by=request.user, person=self.get_object()))
