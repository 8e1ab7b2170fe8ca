"""Class lists for their teachers and for technicians. The class's own page has no API."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import BucketRef, GlazeRef, In, Out
from inventory.filters import ClassListFilter
from inventory.models import ClassEntry, ClassList, Fill
from studio.addresses import handed_on
from studio.api.base import SEE, Resource
from studio.api.serializers import IdOf, NewId, Nothing, PersonRef

OWN = ["name", "for_children", "starts_on", "ends_on"]


class FillOfClass(Out):
    """A bucket's contents as chosen; whether the class can use it now is for its page to say."""

    bucket = BucketRef()
    glaze = GlazeRef()

    class Meta:
        model = Fill
        fields = ["id", "bucket", "glaze", "child_fit", "ended_at"]


class ClassListOut(Out):
    teacher = PersonRef()
    fills = FillOfClass(many=True)
    state = serializers.ChoiceField(["coming", "open", "ended", "closed"], read_only=True)
    address = serializers.SerializerMethodField()

    class Meta:
        model = ClassList
        fields = ["id", "version", "created_at", *OWN, "teacher", "fills", "state", "closed_at", "address"]

    def get_address(self, class_list: ClassList) -> str:
        """The private page. Whoever has it needs no log-in."""
        return handed_on(self.context["request"], class_list.page_path)


class ClassListChange(In):
    fills = serializers.ListField(child=IdOf(Fill), required=False)

    class Meta:
        model = ClassList
        fields = [*OWN, "fills"]


class ClassListNew(NewId, ClassListChange):
    class Meta(ClassListChange.Meta):
        fields = ["id", *OWN, "fills"]


class ClassEntryOut(Out):
    fill = serializers.UUIDField(source="fill_id")
    volume_ml = serializers.DecimalField(
        max_digits=9, decimal_places=1, source="taken_ml", allow_null=True, read_only=True
    )

    class Meta:
        model = ClassEntry
        fields = ["id", "created_at", "fill", "makers", "pieces", "volume_ml", "remark"]


def _changed(*, values: dict[str, Any], **more: Any) -> ClassList:
    rest = {name: value for name, value in values.items() if name != "fills"}
    return actions.change_class_list(values=rest, fills=values.get("fills"), **more)


class ClassLists(Resource):
    """The buckets that a guest class may use. A teacher sees the own ones, a technician all."""

    acts: ClassVar = {
        **dict.fromkeys(SEE, "class.make"),
        **dict.fromkeys(["create", "partial_update", "close", "new_address", "entries"], "class.make"),
    }
    model = ClassList
    serializer_class = ClassListOut
    filterset_class = ClassListFilter
    new_class, make = ClassListNew, actions.create_class_list
    change_class, alter = ClassListChange, _changed

    def rows(self, person: Any) -> Any:
        lists = ClassList.objects.visible_to(person).select_related("teacher")
        return lists.prefetch_related("fills__bucket", "fills__glaze")

    @extend_schema(request=None)
    @action(detail=True, methods=["post"])
    def close(self, request: Any, pk: Any = None) -> Response:
        """The address stops working at once."""
        self.input(Nothing)
        found, version = self.get_object(), self.if_match(required=False)
        return self.answer(actions.close_class_list(by=request.user, obj=found, version=version))

    @extend_schema(request=None)
    @action(detail=True, methods=["post"], url_path="new-address")
    def new_address(self, request: Any, pk: Any = None) -> Response:
        """The old address stops working at once."""
        self.input(Nothing)
        found, version = self.get_object(), self.if_match(required=False)
        return self.answer(actions.new_address(by=request.user, obj=found, version=version))

    @extend_schema(responses=ClassEntryOut(many=True), filters=False)
    @action(detail=True)
    def entries(self, request: Any, pk: Any = None) -> Response:
        return self.parts(self.get_object().entries.select_related("stock_entry"), ClassEntryOut)
