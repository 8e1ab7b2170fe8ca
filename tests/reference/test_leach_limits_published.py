"""Every published limit, just under, at and just over it.

The numbers stand here as the sources print them, apart from fixtures/leach_limits.csv:
- us-fda: CPG 545.450 (lead) and 545.400 (cadmium), Nov 2005; lead also in Washington WAC 246-215-04110(1)
- iso-6486-2: ISO 6486-2:1999, in surveys that name it; its row of cups and its rule are from memory
- eu-84-500: 84/500/EEC, Art. 2(4)
- canada: SOR/2016-175, s. 2
- japan: Notification 370 of 1959, revised 2008; 8 and 0.7 µg/cm² are 0.8 and 0.07 mg/dm²
- california-65: consent judgments of 1993, People v. Wedgwood, No. 938430
"""

from decimal import Decimal

import pytest

from tiles.calc.leach import judge
from tiles.calc.leach_limits import categories, published, standards

L, DM2 = "mg_per_l", "mg_per_dm2"
# standard, category, unit, lead, cadmium, basis, pieces
PRINTED = [
    ("us-fda", "flatware", L, "3.0", "0.5", "mean", 6),
    ("us-fda", "small-hollowware", L, "2.0", "0.5", "each", 6),
    ("us-fda", "large-hollowware", L, "1.0", "0.25", "each", 6),
    ("us-fda", "cups-and-mugs", L, "0.5", "0.5", "each", 6),
    ("us-fda", "pitchers", L, "0.5", "0.25", "each", 6),
    ("iso-6486-2", "flatware", DM2, "0.8", "0.07", "mean", 4),
    ("iso-6486-2", "small-hollowware", L, "2.0", "0.50", "each", 4),
    ("iso-6486-2", "large-hollowware", L, "1.0", "0.25", "each", 4),
    ("iso-6486-2", "storage", L, "0.5", "0.25", "each", 4),
    ("iso-6486-2", "cups-and-mugs", L, "0.5", "0.25", "each", 4),
    ("iso-6486-2", "cooking-ware", L, "0.5", "0.05", "each", 4),
    ("eu-84-500", "flatware", DM2, "0.8", "0.07", "each", 1),
    ("eu-84-500", "small-hollowware", L, "4.0", "0.3", "each", 1),
    ("eu-84-500", "large-hollowware", L, "4.0", "0.3", "each", 1),
    ("eu-84-500", "cups-and-mugs", L, "4.0", "0.3", "each", 1),
    ("eu-84-500", "pitchers", L, "4.0", "0.3", "each", 1),
    ("eu-84-500", "storage", L, "1.5", "0.1", "each", 1),
    ("eu-84-500", "cooking-ware", L, "1.5", "0.1", "each", 1),
    ("canada", "flatware", L, "3.0", "0.50", "each", 1),
    ("canada", "small-hollowware", L, "2.0", "0.50", "each", 1),
    ("canada", "large-hollowware", L, "1.0", "0.25", "each", 1),
    ("canada", "cups-and-mugs", L, "0.5", "0.50", "each", 1),
    ("canada", "pitchers", L, "0.5", "0.25", "each", 1),
    ("japan", "flatware", DM2, "0.8", "0.07", "each", 1),
    ("japan", "small-hollowware", L, "2", "0.5", "each", 1),
    ("japan", "large-hollowware", L, "1", "0.25", "each", 1),
    ("japan", "storage", L, "0.5", "0.25", "each", 1),
    ("japan", "cooking-ware", L, "0.5", "0.05", "each", 1),
    ("california-65", "flatware", L, "0.226", None, "each", 1),
    ("california-65", "small-hollowware", L, "0.100", None, "each", 1),
    ("california-65", "large-hollowware", L, "0.100", None, "each", 1),
    ("california-65", "cups-and-mugs", L, "0.100", None, "each", 1),
    ("california-65", "pitchers", L, "0.100", None, "each", 1),
]
CASES = [
    (standard, category, unit, metal, Decimal(limit), basis, pieces)
    for standard, category, unit, lead, cadmium, basis, pieces in PRINTED
    for metal, limit in (("lead", lead), ("cadmium", cadmium))
    if limit is not None
]


def test_no_limit_is_missing_here_or_there():
    assert len(CASES) == len(published())
    assert [(s, c) for s in standards() for c in categories(s)] == [row[:2] for row in PRINTED]


@pytest.mark.parametrize(("standard", "category", "unit", "metal", "limit", "basis", "pieces"), CASES)
def test_just_under_at_and_just_over(standard, category, unit, metal, limit, basis, pieces):
    def verdict(*amounts):
        judged = judge(standard, category, [{f"{metal}_{unit}": amount} for amount in amounts])
        (only,) = judged.metals
        assert only.verdict == judged.verdict
        return only

    step = limit / 1000
    assert verdict(*[limit - step] * pieces).verdict == "within"
    at = verdict(*[limit] * pieces)
    assert (at.verdict, at.is_boundary) == ("within", True)
    if standard == "eu-84-500":  # 50 % rule: see test_leach.py
        assert verdict(limit + step).verdict == "more-pieces-needed"
    else:
        assert verdict(*[limit + step] * pieces).verdict == "over"
    # One piece over among others that release nothing: a mean hides it, but it is named.
    one = verdict(limit * 2, *[0] * (pieces - 1))
    assert one.verdict == ("within" if basis == "mean" else "over")
    assert one.above == (1,)
    # The last piece is wanted, unless one that is there is over.
    if pieces > 1:
        short = verdict(*[limit / 2] * (pieces - 1))
        assert (short.verdict, short.pieces_needed) == ("more-pieces-needed", 1)
    if basis == "mean":  # so far over that the missing pieces cannot bring the mean down
        assert verdict(limit * pieces + step).verdict == "over"
    # As floats, as JSON brings them.
    assert verdict(*[float(limit)] * pieces).verdict == "within"
