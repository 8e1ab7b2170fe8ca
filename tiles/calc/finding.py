"""One thing that a check has to say, the facts of a layer, and what each rule rests on."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from inventory.calc.cones import Cone

LEVELS = ("note", "warn", "stop")  # mildest first
RULES = {  # code: (level, what it rests on)
    "body_outside_cone": ("stop", "studio_record"),
    "kiln_too_cool": ("stop", "studio_record"),
    "unlikely_cone": ("note", "common_practice"),
    "glaze_outside_cone": ("warn", "studio_record"),
    "fill_do_not_use": ("stop", "studio_record"),
    "fill_ask_first": ("warn", "studio_record"),
    "underglaze_uncovered": ("warn", "common_practice"),
    "coat_after_a_day": ("note", "common_practice"),
    "cone_ranges_apart": ("warn", "studio_record"),
    # How it was put on, what it went onto and what is in it: findings_coats.py.
    "runny_near_foot": ("warn", "studio_record"),
    "runny_on_runny": ("warn", "studio_record"),
    "glaze_on_foot": ("warn", "common_practice"),
    "thick_on_foot": ("warn", "common_practice"),
    "stirred_in": ("warn", "common_practice"),
    "ground_oily": ("warn", "common_practice"),
    "ground_dusty": ("warn", "common_practice"),
    "ground_damp": ("warn", "common_practice"),
    "coat_on_undried": ("warn", "common_practice"),
    "coat_soon_after": ("note", "common_practice"),
    "on_fired_glaze": ("note", "common_practice"),
    "not_stirred": ("note", "common_practice"),
    "few_coats": ("note", "common_practice"),
    "uneven_coats": ("warn", "common_practice"),
    "stiff_brush": ("note", "common_practice"),
    "hazard_in_spray": ("warn", "air_limits"),
    "hazard_on_skin": ("note", "air_limits"),
    "spray_mist": ("note", "air_limits"),
    "container_warns": ("note", "container"),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a check has to say; `params` are pairs, so that findings can be compared and hashed."""

    code: str
    level: str
    params: tuple[tuple[str, object], ...] = ()
    field: str = ""
    source: str = ""

    @property
    def details(self) -> dict[str, object]:
        """The parameters by name."""
        return dict(self.params)


@dataclass(frozen=True, kw_only=True, slots=True)
class LayerFacts:
    """One layer as the rules see it.

    position: its number on the tile; kind: glaze, underglaze, slip, engobe, terra_sigillata, wash, lustre
    or wax; area: one of zones.AREAS; use_standing and use_reasons: its fill's, '' and () without a fill.
    glaze: any key, the same for the same glaze; method, ground, ground_state: as the record has them; coats,
    thickness in mm and is_even None, texts '' where nobody said. is_timed: `applied_at` was said and is not the
    moment of logging; asked_at: the moment that counts where it is only planned. moved_mm: the most that this glaze
    alone moved here; is_moved_expected: nobody measured it, its record only expects so. substances: codes of what is
    in it and is grave to handle raw.
    """

    position: int
    name: str
    kind: str
    cone_low: Cone | None
    cone_high: Cone | None
    area: str
    use_standing: str = ""
    use_reasons: tuple[str, ...] = ()
    applied_at: datetime | None = None
    is_timed: bool = False
    asked_at: datetime | None = None
    glaze: str = ""
    method: str = ""
    tool: str = ""
    coats: int | None = None
    is_even: bool | None = None
    thickness_mm: Decimal | None = None
    ground: str = ""
    ground_state: str = ""
    wiped_back: bool = False
    stirred_in: str = ""
    stirred_at: datetime | None = None
    moved_mm: Decimal | None = None
    is_moved_expected: bool = False
    substances: tuple[str, ...] = ()
    health_statement: str = ""


def finding(code: str, field: str, **params: object) -> Finding:
    """A finding at the level and with the source of its rule."""
    level, source = RULES[code]
    return Finding(code, level, tuple(params.items()), field, source)


def of_layer(layer: LayerFacts, name: str) -> str:
    """The field of a layer that a finding is about: 'layers.2.area'."""
    return f"layers.{layer.position}.{name}"
