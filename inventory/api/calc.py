"""The shelf's stateless calculators."""

from typing import Any, ClassVar

from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from inventory.calc.slurry import (
    MEAN_PARTICLE_DENSITY,
    SgError,
    dry_g_per_l,
    dry_to_add_g,
    solids_fraction,
    specific_gravity_from,
    water_to_add_ml,
)
from inventory.fields import SpecificGravityJsonField
from inventory.sentences import sg_error_sentence
from studio.api.calculator import Calculator
from studio.api.serializers import Strict, checked
from studio.errors import Refused


def _amount(**kwargs: Any) -> serializers.DecimalField:
    return serializers.DecimalField(max_digits=13, decimal_places=4, required=False, **kwargs)


class SlurryIn(Strict):
    """`mass_g` and `volume_ml`, or `specific_gravity`; the rest is optional. Particle density is about 2.6."""

    mass_g = _amount()
    volume_ml = _amount()
    specific_gravity = SpecificGravityJsonField(required=False)
    bucket_volume_ml = _amount()
    target_specific_gravity = SpecificGravityJsonField(required=False)
    particle_density = _amount(default=MEAN_PARTICLE_DENSITY)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        weighed = [name for name in ("mass_g", "volume_ml") if name in attrs]
        if "specific_gravity" in attrs and weighed:
            raise serializers.ValidationError(
                {weighed[0]: [_("Give mass and volume, or the specific gravity; not both.")]}
            )
        if "specific_gravity" not in attrs and len(weighed) < 2:
            missing = "mass_g" if weighed == ["volume_ml"] else "volume_ml" if weighed else "specific_gravity"
            raise serializers.ValidationError(
                {missing: [_("Give mass and volume, or the specific gravity.")]}
            )
        return attrs


class SlurryOut(serializers.Serializer):
    specific_gravity = serializers.FloatField()
    dry_g_per_l = serializers.FloatField()
    solids_fraction = serializers.FloatField()
    water_to_add_ml = serializers.FloatField(
        allow_null=True, help_text="Below 0: to take off. Null without bucket volume or target."
    )
    dry_to_add_g = serializers.FloatField(
        allow_null=True, help_text="Null when the target is below, and without bucket volume or target."
    )


def slurry(
    *,
    mass_g: Any = None,
    volume_ml: Any = None,
    specific_gravity: Any = None,
    bucket_volume_ml: Any = None,
    target_specific_gravity: Any = None,
    particle_density: Any = MEAN_PARTICLE_DENSITY,
) -> dict[str, float | None]:
    """The figures of `SlurryOut`. Raises SgError."""
    sg = specific_gravity if mass_g is None else specific_gravity_from(mass_g, volume_ml)
    found: dict[str, float | None] = {
        "specific_gravity": float(sg),
        "dry_g_per_l": dry_g_per_l(sg, particle_density),
        "solids_fraction": solids_fraction(sg, particle_density),
        "water_to_add_ml": None,
        "dry_to_add_g": None,
    }
    if bucket_volume_ml is not None and target_specific_gravity is not None:
        target = target_specific_gravity
        found["water_to_add_ml"] = water_to_add_ml(bucket_volume_ml, sg, target)
        found["dry_to_add_g"] = dry_to_add_g(bucket_volume_ml, sg, target, particle_density)
    return found


# Where an error of the calculation itself is shown, which names no field.
FIELDS = {"out_of_range": "mass_g", "denser_than_particles": "particle_density"}


class SlurryCalculator(Calculator):
    """Specific gravity, what is in a litre, and what to add."""

    acts: ClassVar = {"slurry": "studio.see"}
    serializer_class = SlurryOut

    @extend_schema(request=SlurryIn, responses=SlurryOut, operation_id="calc_slurry")
    def slurry(self, request: Any) -> Response:
        said = checked(SlurryIn, request.data)
        try:
            return Response(slurry(**said))
        except SgError as error:
            field = str(error.params.get("field") or FIELDS[error.code])
            raise Refused({field: sg_error_sentence(error)}) from error
