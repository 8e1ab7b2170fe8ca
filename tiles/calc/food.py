"""What a record says about ware and food, as codes: kept away, not known, or on record. Never that it is fit.

The rules are the studio's own decision, in the order of their strength; each line says what it rests on, and its
sentence is in tiles/food_sentences.py. The verdict is the worst that any line gives, so that a bad fact can never
improve it. Without a line for 'on record' nothing is on record.
"""

from collections.abc import Iterable, Iterator, Sequence

from tiles.calc.food_facts import (
    BARE_BY_CUSTOM,
    DOUBTFUL,
    FAVOURABLE,
    KEEPS_AWAY,
    KEPT_AWAY,
    NOT_KNOWN,
    ON_RECORD,
    SAID,
    SCREENS_THAT_SPOIL,
    SPOILED_BY,
    SPOILED_TOO,
    STAIN,
    VERDICTS,
    WANTS_A_COVER,
    FoodLayer,
    Line,
    Report,
    Ware,
)
from tiles.calc.zones import REGIONS, REGIONS_OF_AREA

BY_LABEL = {
    "not_for_food": "label_not_for_food",
    "": "label_not_read",
    "no_bucket": "no_bucket",
    "none": "label_silent",
    "mixed": "mixed_here",
    "mixed_no_bucket": "mixed_no_bucket",
}


def verdict(lines: Iterable[Line]) -> str:
    """The worst of the lines; not known where none has a say.

    >>> verdict([Line("lab_within"), Line("stain")]), verdict([Line("label_quoted")])
    ('not_known', 'not_known')
    """
    said = [line.verdict for line in lines if line.verdict != SAID]
    return max(said, key=VERDICTS.index, default=NOT_KNOWN)


def food_lines(ware: Ware) -> tuple[Line, ...]:
    """All reasons, the gravest first, in the order of the layers.

    Sources: the studio's rules; the elements as in RULES; 'a test is of the fired piece': food-contact law, such as
    84/500/EEC, Annex I.

    >>> weir = FoodLayer(name="Weir", label="none")
    >>> [line.code for line in food_lines(Ware(what="fill", layers=(weir,)))]
    ['never_by_itself', 'label_silent']
    """
    found = [line for layer in ware.layers for line in of_layer(layer)]
    found += _of_cones(ware)
    found += _of_surface(ware)
    found += _of_firings(ware)
    found += _of_reports(ware)
    found += _of_trials(ware)
    if verdict(found) != KEPT_AWAY and not any(line.verdict == ON_RECORD for line in found):
        found += _closing(ware)
    return tuple(sorted(dict.fromkeys(found), key=lambda line: -_weight(line)))


def _weight(line: Line) -> int:
    return 0 if line.verdict == SAID else 1 + VERDICTS.index(line.verdict)


def _line(code: str, **params: object) -> Line:
    return Line(code, tuple(params.items()))


def of_layer(layer: FoodLayer) -> Iterator[Line]:
    """What one layer says by itself, whatever lies over it and however it was fired."""
    who = {"n": layer.position, "name": layer.name}
    if layer.label in FAVOURABLE:
        yield _line("label_quoted", **who, label=layer.label, condition=layer.condition)
    else:
        yield _line(BY_LABEL[layer.label], **who)
    for kind, bucket, when in layer.flags:
        yield _line(f"flag_{when}", **who, kind=kind, bucket=bucket)
    for element, percent, read in layer.substances:
        code = STAIN if element == STAIN else "substance_not_known"
        if element in KEEPS_AWAY:
            code = "substance_keeps_away"
        yield _line(code, **who, element=element, percent=percent, read=read)
    for report in layer.over_alone:
        yield _line("lab_over_alone", **who, report=report)
    if layer.stirred_in:
        yield _line("stirred_together", **who, other=layer.stirred_in)
    for material in layer.added:
        yield _line("added", **who, material=material)


def _of_cones(ware: Ware) -> Iterator[Line]:
    if not ware.can_be_on_record:
        return
    if not ware.heats:
        yield _line("not_fired" if ware.what == "tile" else "cone_not_known")
        return
    for layer in ware.layers:
        who = {"n": layer.position, "name": layer.name}
        if layer.cone_low is None or layer.cone_high is None:
            yield _line("cone_range_not_known", **who)
        melted = [h for h in ware.heats if (h.kind == "overglaze") == (layer.kind == "lustre")]
        cones = {cone for heat in melted for cone in (heat.seen, heat.log_cone) if cone is not None}
        for cone in sorted(cones, key=lambda cone: cone.rank):
            if (layer.cone_low and cone < layer.cone_low) or (layer.cone_high and cone > layer.cone_high):
                ends = {"low": layer.cone_low, "high": layer.cone_high}
                yield _line("outside_cone", **who, cone=cone, **ends, how=melted[0].basis)
        if not melted or any(heat.seen is None for heat in melted):
            yield _line("cone_not_known")
        elif any(heat.basis == "planned" for heat in melted):
            yield _line("cone_only_planned")


def _of_surface(ware: Ware) -> Iterator[Line]:
    if ware.what in ("glaze", "fill"):
        for layer in ware.layers:
            if layer.kind in (*WANTS_A_COVER, *BARE_BY_CUSTOM):
                yield _line("wants_cover", name=layer.name, kind=layer.kind)
        return
    if not ware.layers:
        yield _line("no_layers")
    else:
        yield from _uncovered(ware)
        yield from _bare(ware)
    for kind, words in ware.faults:
        spoils = kind in (*SPOILED_BY, *SPOILED_TOO)
        if not spoils and kind not in DOUBTFUL:
            continue
        if ware.what == "pot":  # seen on tiles of these layers: of the pot itself nobody knows yet
            yield _line("fault_on_tiles", kind=kind, words=words)
        else:
            yield _line("fault" if spoils else "fault_doubtful", kind=kind, words=words)
    if ware.is_dry:
        yield _line("dry_on_tiles" if ware.what == "pot" else "dry")
    for kind in ware.marks:
        yield _line("marked", kind=kind)


def _regions(layers: Iterable[FoodLayer]) -> set[str]:
    return {region for layer in layers for region in REGIONS_OF_AREA[layer.area]}


def _uncovered(ware: Ware) -> Iterator[Line]:
    eaten_from = {*ware.food_side, *(["lip"] if ware.has_lip else [])}
    for index, layer in enumerate(ware.layers):
        if layer.kind not in (*WANTS_A_COVER, *BARE_BY_CUSTOM):
            continue
        over = [later for later in ware.layers[index + 1 :] if later.covers]
        left = _regions([layer]) - _regions(over)
        if left and (layer.kind in WANTS_A_COVER or left & eaten_from):
            yield _line("uncovered", n=layer.position, name=layer.name, kind=layer.kind)


def _bare(ware: Ware) -> Iterator[Line]:
    # What wants a cover and has none is told already.
    covered = _regions(layer for layer in ware.layers if layer.covers or layer.kind in WANTS_A_COVER)
    covered |= _regions(layer for layer in ware.layers if layer.kind in BARE_BY_CUSTOM)
    bare = tuple(region for region in REGIONS if region in ware.food_side and region not in covered)
    if bare:
        yield _line("bare", regions=bare)
    if ware.has_lip and "lip" not in covered:
        yield _line("lip_bare")


def lies_over(layers: Sequence[FoodLayer]) -> bool:
    """Whether any layer lies over another; an area that nobody noted is the whole."""
    counted = [region for layer in layers for region in REGIONS_OF_AREA[layer.area]]
    return len(counted) > len(set(counted))


def _of_firings(ware: Ware) -> Iterator[Line]:
    if ware.firings > 1:
        yield _line("refired", times=ware.firings, **({"how": "planned"} if ware.what == "pot" else {}))
    for name, reason in ware.kilns:
        yield _line("kiln", name=name, reason=reason)
    if ware.kilns_to_ask:
        yield _line("kiln_not_named", kilns=ware.kilns_to_ask)


def _of_reports(ware: Ware) -> Iterator[Line]:
    exact = [report for report in ware.reports if report.is_exact and ware.can_be_on_record]
    if lies_over(ware.layers) and not exact:
        yield _line("layering_untested")
    for report in ware.reports:
        if report in exact:
            code = _code_of(report)
            elsewhere = {"over_by": report.over_by} if code == "lab_within" and report.over_by else {}
            yield _line(code, report=report.words, **elsewhere)
        elif report.verdict == "over":
            yield _line("lab_near_over", report=report.words)


def _code_of(report: Report) -> str:
    if report.verdict == "over":
        return "lab_over"
    if report.verdict == "more-pieces-needed" or (report.verdict == "within" and report.is_boundary):
        return "lab_boundary"
    if report.verdict != "within":
        return "lab_cannot_say"
    if not report.is_complete:
        return "lab_incomplete"
    if report.is_milder:
        return "lab_other_kind"
    return "lab_unverified" if report.is_unverified else "lab_within"


def _of_trials(ware: Ware) -> Iterator[Line]:
    for kind, result, words in ware.trials:
        if result == "failed":
            yield _line("trial_failed" if kind in SCREENS_THAT_SPOIL else "trial_doubtful", words=words)
        elif result == "unclear":
            yield _line("trial_unclear", words=words)
        elif result == "not_yet_failed":
            yield _line("trial_not_yet_failed", words=words)


def _closing(ware: Ware) -> Iterator[Line]:
    labels_only = bool(ware.layers) and all(layer.label in FAVOURABLE for layer in ware.layers)
    if labels_only:
        yield _line("labels_only")
    if not ware.can_be_on_record:
        yield _line("never_by_itself", what=ware.what)
    elif not labels_only:
        yield _line("no_report")
