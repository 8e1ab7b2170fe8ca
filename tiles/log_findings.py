"""What there is to say beside the cone of a log, the same on the firing's page and over the API."""

from tiles.calc.heat_work import HeatWorkError, heat_work
from tiles.heat_sentences import heat_sentence, heat_source
from tiles.logs import readings_of
from tiles.models import Firing
from tiles.planning import FoundSentence


def log_findings(firing: Firing) -> list[FoundSentence]:
    """What there is to say of the cone by the log. Nothing where its readings bend none, which is said already."""
    found = readings_of(firing)
    try:
        work = heat_work(found.minutes, found.counted) if found else None
    except HeatWorkError:
        return []
    return [
        FoundSentence(one.code, one.level, heat_sentence(one), one.field, heat_source(one))
        for one in (work.findings if work else ())
    ]
