"""The wall's stateless calculators."""

from typing import Any, ClassVar

import numpy as np
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.response import Response

from inventory.fields import ConeJsonField
from studio.api.calculator import Calculator, FindingSaid
from studio.api.serializers import Strict, checked
from studio.errors import Refused
from tiles.calc.heat_work import HeatWork, HeatWorkError, heat_work
from tiles.heat_sentences import heat_error_sentence, heat_sentence, heat_source

MOST_SAMPLES = 200_000
CONE_TYPES = {"self-supporting": "self_supporting", "large": "large", "small": "small"}

PAIRS = {
    "type": "array",
    "minItems": 1,
    "maxItems": MOST_SAMPLES,
    "items": {
        "type": "array",
        "minItems": 2,
        "maxItems": 2,
        "items": {"type": "number", "nullable": True},
    },
    "description": "[[minutes, °C], ...] in the order of time; °C is null where the instrument said nothing.",
    "example": [[0, 20], [600, 1122], [700, 1222]],
}


@extend_schema_field(PAIRS)
class SamplesField(serializers.Field):
    """Read all at once, because a field for each number would take seconds for a long log."""

    def to_internal_value(self, data: Any) -> Any:
        if not isinstance(data, list):
            raise serializers.ValidationError(_("Give a list of pairs: [[minutes, °C], ...]."))
        if len(data) > MOST_SAMPLES:
            raise serializers.ValidationError(
                _("There are %(count)s samples; at most %(most)s are read. Send every second one, or fewer.")
                % {"count": len(data), "most": MOST_SAMPLES}
            )
        for row, pair in enumerate(data, 1):
            if not _is_sample(pair):
                raise serializers.ValidationError(
                    _("Sample %(row)s is no pair of numbers. Write it as [minutes, °C].") % {"row": row}
                )
        return np.array(data, dtype=float).reshape(-1, 2)

    def to_representation(self, value: Any) -> Any:
        return value


def _is_sample(pair: Any) -> bool:
    if type(pair) is not list or len(pair) != 2:
        return False
    minutes, celsius = pair
    return _is_number(minutes) and (celsius is None or _is_number(celsius))


def _is_number(value: Any) -> bool:
    """True for what JSON calls a number, if a float can hold it."""
    return type(value) is float or (type(value) is int and -(2**53) < value < 2**53)


class HeatWorkIn(Strict):
    """A log as pairs of minutes and °C."""

    samples = SamplesField()
    cone_type = serializers.ChoiceField(tuple(CONE_TYPES), default="self-supporting")


class ConeDose(serializers.Serializer):
    cone = ConeJsonField()
    dose = serializers.FloatField(help_text="1 = down")


class HeatWorkOut(serializers.Serializer):
    cone = ConeJsonField(allow_null=True, help_text="The hottest whole cone down; null below 022.")
    cone_fraction = serializers.FloatField(
        allow_null=True, min_value=0, max_value=1, help_text="The way to the next whole cone."
    )
    cone_low = ConeJsonField(allow_null=True)
    cone_high = ConeJsonField(allow_null=True)
    cones = ConeDose(many=True, help_text="Every cone known of this type, coolest first.")
    last_100c_rate_c_per_h = serializers.FloatField(allow_null=True)
    peak_c = serializers.FloatField()
    findings = FindingSaid(many=True)


def heat_work_said(found: HeatWork) -> dict[str, Any]:
    """The members of `HeatWorkOut`."""
    findings = [
        {
            "code": finding.code,
            "level": finding.level,
            "sentence": heat_sentence(finding),
            "field": finding.field,
            "source": heat_source(finding),
        }
        for finding in found.findings
    ]
    return {
        "cone": found.cone,
        "cone_fraction": found.fraction,
        "cone_low": found.low,
        "cone_high": found.high,
        "cones": [{"cone": cone, "dose": dose} for cone, dose in found.doses],
        "last_100c_rate_c_per_h": found.rate_c_per_h,
        "peak_c": found.peak_c,
        "findings": findings,
    }


class HeatWorkCalculator(Calculator):
    """Which cone a log of temperatures amounts to."""

    acts: ClassVar = {"heat_work": "studio.see"}
    serializer_class = HeatWorkOut

    @extend_schema(request=HeatWorkIn, responses=HeatWorkOut, operation_id="calc_heat_work")
    def heat_work(self, request: Any) -> Response:
        said = checked(HeatWorkIn, request.data)
        samples, cone_type = said["samples"], CONE_TYPES[said["cone_type"]]
        try:
            found = heat_work(samples[:, 0], samples[:, 1], cone_type)
        except HeatWorkError as error:
            raise Refused({"samples": heat_error_sentence(error)}) from error
        return Response(HeatWorkOut(heat_work_said(found)).data)
