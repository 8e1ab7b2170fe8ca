"""What of concern is in a glaze: noted with who read it where, taken back with a reason, never deleted."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import GlazeSubstance
from inventory.substances import substances_of
from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of


@pytest.fixture
def glaze(studio):
    return make.glaze("Sluice Blue", origin="bought")


def note(glaze, by, **fields):
    values = {"substance": "Co", "read_in": "container", "percent": Decimal("2.5"), **fields}
    return shelf.note_substance(by=by, glaze=glaze, **values)


def test_it_is_noted_by_page_with_who_read_it_where(client, member, glaze):
    client.force_login(member)
    sent = {
        "substance": "Co",
        "percent": "2,5",
        "read_in": "data_sheet",
        "words": "cobalt compounds",
        "lot": "B 7",
        "read_on": "2026-03-04",
    }
    answer = client.post(f"/glazes/{glaze.pk}/inside/new/", sent)
    assert answer.status_code == 302
    shown = text_of(client.get(glaze.get_absolute_url()))
    assert f"Cobalt , 2.5 % read in the data sheet by {member.name} on 4 March 2026" in shown
    assert "lot B 7: “cobalt compounds”" in shown
    assert Change.objects.filter(object_id=glaze.pk, verb="noted what is in it").get().actor == member


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"percent": Decimal(0)}, "percent"),
        ({"percent": Decimal("100.5")}, "percent"),
        ({"read_on": timezone.localdate() + timedelta(days=1)}, "read_on"),
        ({"substance": "Xx"}, "substance"),
    ],
)
def test_what_cannot_be_is_refused_under_its_field(glaze, member, wrong, field):
    with pytest.raises(Refused) as refused:
        note(glaze, member, **wrong)
    assert field in refused.value.problems


def test_how_much_may_be_unknown_and_stays_unknown(client, member, glaze):
    note(glaze, member, percent=None, substance="stain")
    client.force_login(member)
    shown = text_of(client.get(glaze.get_absolute_url()))
    assert "A stain without an analysis how much is not known" in shown


def test_taken_back_with_a_reason_by_who_noted_it_or_a_technician(glaze, member):
    other, technician = make.person(), make.person("technician")
    first, second = note(glaze, member), note(glaze, member, substance="Pb")
    with pytest.raises(NotAllowed):
        shelf.take_back_substance(by=other, row=first, reason="no")
    with pytest.raises(Refused, match="how you know"):
        shelf.take_back_substance(by=member, row=first, reason="  ")
    shelf.take_back_substance(by=member, row=first, reason="that was another jar")
    shelf.take_back_substance(by=technician, row=second, reason="misread")
    assert substances_of([glaze]) == {glaze.pk: []}
    assert GlazeSubstance.objects.count() == 2
    reasons = Change.objects.filter(object_id=glaze.pk, verb="took back what is in it").values_list(
        "reason", flat=True
    )
    assert set(reasons) == {"that was another jar", "misread"}
    with pytest.raises(Refused, match="already"):
        shelf.take_back_substance(by=member, row=first, reason="again")


def test_one_question_for_many_glazes(glaze, member, django_assert_num_queries):
    glazes = [glaze, make.glaze(), make.glaze()]
    for each in glazes:
        note(each, member)
    with django_assert_num_queries(1):
        found = substances_of(glazes)
    assert [len(found[each.pk]) for each in glazes] == [1, 1, 1]
