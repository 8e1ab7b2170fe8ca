"""A flag's whole reach before it is raised, while it is open and after it was cleared: buckets, tiles, combinations."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Flag
from inventory.reach import as_it_would_be, spells
from tests import make
from tests.reading import text_of
from tiles.models import Layer


def days(n):
    return timezone.now() - timedelta(days=n)


@pytest.fixture
def chain(manager):
    """Three fills of one glaze; poured from the first into the second 20 days ago, on into the third 10 days ago."""
    glaze = make.glaze("Weir Green")
    fills = [make.fill(glaze, level="full", days_ago=60) for _i in range(3)]
    for n, ago in ((0, 20), (1, 10)):
        shelf.transfer(by=manager, source=fills[n], target=fills[n + 1], volume_ml=Decimal(100), at=days(ago))
    return fills


@pytest.fixture
def tiles(chain):
    """{number: tile}: each is named after its bucket and the days since it was glazed."""
    when = {"A30": (0, 30), "A5": (0, 5), "B30": (1, 30), "B15": (1, 15), "C15": (2, 15), "C5": (2, 5)}
    return {
        number: make.tile(number, layers=[{"fill": chain[n], "applied_at": days(ago)}])
        for number, (n, ago) in when.items()
    }


def touched(flag):
    rows = Layer.objects.touched_by(spells(flag)).values_list("tile__number", flat=True)
    return sorted(rows)


def raised(chain, **fields):
    return shelf.raise_flag(by=make.manager(), fill=chain[0], kind="contaminated", **fields)


@pytest.mark.parametrize(
    ("since", "reach"),
    [
        (None, ["A30", "A5", "B15", "C5"]),
        (25, ["A5", "B15", "C5"]),
        (15, ["A5"]),
    ],
)
def test_what_it_would_touch_is_what_it_then_touches(chain, tiles, since, reach):
    moment = days(since) if since else None
    thought_of = as_it_would_be(chain[0], "contaminated", moment)
    assert touched(thought_of) == reach
    before = [(s.fill, s.since, s.source) for s in spells(thought_of)]
    flag = raised(chain, since=moment)
    assert touched(flag) == reach
    assert [(s.fill, s.since, s.source) for s in spells(flag)] == before
    assert Flag.objects.count() == len(before)


def test_what_does_not_go_with_a_pour_stays_in_its_bucket(chain, tiles):
    assert touched(as_it_would_be(chain[0], "dried_out", None)) == ["A30", "A5"]


def test_a_second_report_would_not_touch_less_than_the_first(chain, tiles):
    raised(chain, since=days(25))
    assert touched(as_it_would_be(chain[0], "contaminated", days(3))) == ["A5", "B15", "C5"]


def test_a_bucket_put_right_is_touched_until_then(chain, tiles, technician):
    flag = raised(chain)
    carried = Flag.objects.get(fill=chain[1])
    shelf.clear_flag(by=technician, flag=carried, outcome="put_right", put_right_at=days(16))
    assert touched(flag) == ["A30", "A5"]


def test_the_page_before_raising_says_what_it_touches_for_the_day_chosen(client, member, chain, tiles):
    client.force_login(member)
    code = chain[0].bucket.code
    page = text_of(client.get(reverse("inventory:flag-new", args=[code])))
    assert "It went into 2 other buckets" in page
    assert "It would touch 4 tiles" in page
    day = timezone.localdate(days(14)).isoformat()
    reach = reverse("inventory:flag-reach", args=[code])
    asked = {"kind": "contaminated", "since": day, "fill": str(chain[0].pk)}
    fragment = client.get(reach, asked, headers={"HX-Request": "true"})
    assert "It would touch 1 tile:" in text_of(fragment)
    assert "other bucket" not in text_of(fragment)
    assert "<html" not in fragment.content.decode()
    # Without scripts a button of the form asks, and nothing typed is lost or written.
    looked = client.post(
        reverse("inventory:flag-new", args=[code]), {**asked, "note": "blue specks", "look": "1"}
    )
    assert "It would touch 1 tile:" in text_of(looked)
    assert "blue specks" in looked.content.decode()
    assert f'value="{day}"' in looked.content.decode()
    assert not Flag.objects.exists()


def test_a_private_tile_of_another_is_counted_and_not_named(client, people, chain):
    make.tile("P1", by=people["other"], layers=[{"fill": chain[2]}], visibility="mine")
    client.force_login(people["member"])
    page = text_of(client.get(raised(chain).get_absolute_url()))
    assert "and 1 that its maker keeps to themselves" in page
    assert "P1" not in page


def test_clearing_shows_everything_touched_before_and_what_stays_after(client, technician, chain, tiles):
    make.tile("AB", layers=[{"glaze": make.glaze("Sluice Red")}, {"fill": chain[2]}])
    flag = raised(chain)
    client.force_login(technician)
    clear = reverse("inventory:flag-clear", args=[flag.pk])
    before = text_of(client.get(clear))
    for said in ("It went into 2 other buckets", "It touches 5 tiles", "and 2 combinations", "Sluice Red"):
        assert said in before
    client.post(clear, {"outcome": "put_right", "note": "sieved"})
    after = text_of(client.get(flag.get_absolute_url()))
    assert "What stays touched Nothing is lifted, because it was so until then." in after
    assert "Each of them is put right or emptied by itself." in after
    assert chain[2].bucket.code in after
    assert "A5" in after


def test_mistaken_says_what_was_lifted_and_what_another_flag_still_touches(client, technician, chain, tiles):
    shelf.raise_flag(by=technician, fill=chain[2], kind="wrong_label", note="the lid is another's")
    flag = raised(chain)
    client.force_login(technician)
    client.post(
        reverse("inventory:flag-clear", args=[flag.pk]), {"outcome": "mistaken", "note": "it was shadow"}
    )
    page = text_of(client.get(flag.get_absolute_url()))
    assert "What was lifted Nothing is touched any more: it never was so." in page
    assert "It went into 2 other buckets" in page
    assert "4 tiles were lifted" in page
    assert "1 of them stays touched, because another flag reaches it: C5" in page
    assert not Flag.objects.filter(origin=flag, outcome="").exists()


def test_emptied_says_that_it_was_so_to_the_end(client, technician, chain, tiles):
    flag = raised(chain)
    shelf.clear_flag(by=technician, flag=flag, outcome="emptied")
    client.force_login(technician)
    assert "Nothing is lifted, because it was so to the end." in text_of(client.get(flag.get_absolute_url()))


def test_a_carried_flag_says_where_it_came_from_and_is_not_mistaken_by_itself(client, technician, chain):
    flag = raised(chain)
    carried = Flag.objects.get(fill=chain[2])
    client.force_login(technician)
    first, second = chain[0].bucket.code, chain[1].bucket.code
    for address in (carried.get_absolute_url(), chain[2].bucket.get_absolute_url()):
        answer = client.get(address)
        assert f"Poured in from bucket {second} on" in text_of(answer)
        assert f"It was first flagged on bucket {first}" in text_of(answer)
        assert f'href="{flag.get_absolute_url()}"' in answer.content.decode()
    clear = reverse("inventory:flag-clear", args=[carried.pk])
    answer = client.get(clear)
    assert "it cannot be mistaken by itself" in text_of(answer)
    assert 'value="mistaken"' not in answer.content.decode()
    forged = client.post(clear, {"outcome": "mistaken", "note": "it was shadow"})
    assert forged.status_code == 200
    carried.refresh_from_db()
    assert carried.is_open
    client.post(clear, {"outcome": "put_right", "note": "sieved"})
    carried.refresh_from_db()
    assert carried.outcome == "put_right"


def test_the_list_counts_what_each_flag_touches_open_ones_first(client, member, technician, chain, tiles):
    flag = raised(chain)
    older = shelf.raise_flag(by=member, fill=make.fill(), kind="contaminated")
    shelf.clear_flag(by=technician, flag=older, outcome="put_right")
    client.force_login(member)
    answer = client.get(reverse("inventory:flag-list"), {"open": ""})
    assert [f.is_open for f, _n in answer.context["flags"]] == [True, True, True, False]
    assert {f.pk: n for f, n in answer.context["flags"]}[flag.pk] == 2
    assert "2 other buckets · 4 tiles" in text_of(answer)
    assert "came with what was poured, first flagged on" in text_of(answer)


def test_twelve_flags_cost_as_many_queries_as_three(client, member, technician):
    client.force_login(member)

    def add(count):
        for _i in range(count):
            glaze = make.glaze()
            source, target = make.fill(glaze), make.fill(glaze)
            shelf.transfer(by=technician, source=source, target=target)
            flag = shelf.raise_flag(by=member, fill=source, kind="contaminated")
            shelf.add_note(by=technician, flag=flag, text="seen")
            make.tile(layers=[{"fill": target}])

    def queries():
        with CaptureQueriesContext(
            connection,
        ) as caught:
            client.get(reverse("inventory:flag-list"))
        return len(caught)

    add(3)
    few = queries()
    add(9)
    assert queries() == few


def test_asking_what_a_flag_would_touch_costs_the_same_for_nine_buckets_as_for_two(
    client, member, technician
):
    client.force_login(member)
    glaze = make.glaze()
    source = make.fill(glaze)

    def pour_into(count):
        for _i in range(count):
            shelf.transfer(by=technician, source=source, target=make.fill(glaze))

    def queries():
        with CaptureQueriesContext(connection) as caught:
            answer = client.get(reverse("inventory:flag-new", args=[source.bucket.code]))
        return len(caught), len(answer.context["reached"])

    pour_into(2)
    few, _two = queries()
    pour_into(7)
    assert queries() == (few, 9)


def test_ending_a_fill_by_hand_says_that_its_flags_stay_open(client, technician, chain):
    flag = raised(chain)
    client.force_login(technician)
    end = reverse("inventory:fill-end", args=[chain[0].pk])
    page = client.get(end)
    assert "1 flag is open on it, and stays open when the fill ends." in text_of(page)
    assert f'href="{flag.get_absolute_url()}"' in page.content.decode()
    assert "still open, in the list of flags" in text_of(client.post(end, {"why": "used up"}, follow=True))
    flag.refresh_from_db()
    assert flag.is_open
    assert "its fill has ended" in text_of(client.get(reverse("inventory:flag-list")))


def test_the_api_says_where_a_flag_came_from_and_what_it_touches(client, member, chain, tiles):
    flag = raised(chain)
    client.force_login(member)
    carried = client.get(f"/api/v1/flags/{Flag.objects.get(fill=chain[1]).pk}/").json()
    assert carried["origin"] == str(flag.pk)
    assert carried["through"]
    reach = client.get(f"/api/v1/flags/{flag.pk}/reach/").json()
    assert [row["fill"] for row in reach["fills"]] == [str(fill.pk) for fill in chain]
    assert [row["poured_out_of"] for row in reach["fills"]] == [None, str(chain[0].pk), str(chain[1].pk)]
    assert reach["is_lifted"] is False
    found = client.get(f"/api/v1/flags/{flag.pk}/tiles/").json()["results"]
    assert sorted(row["number"] for row in found) == ["A30", "A5", "B15", "C5"]


def test_an_open_flag_says_what_to_do_with_the_bucket(client, manager, member):
    client.force_login(member)
    fill = make.fill(make.glaze("Weir Green"))
    apart = "set it apart, where nobody takes it by mistake"
    for kind, words in (
        ("contaminated", apart),
        ("wrong_label", apart),
        ("not_for_food", "Keep it off anything"),
    ):
        flag = shelf.raise_flag(by=member, fill=fill, kind=kind)
        assert words.lower() in text_of(client.get(flag.get_absolute_url())).lower()
        shelf.clear_flag(by=manager, flag=flag, outcome="mistaken", note="the light")
        assert words.lower() not in text_of(client.get(flag.get_absolute_url())).lower()
