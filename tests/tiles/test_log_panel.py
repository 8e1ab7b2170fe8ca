"""What the firing's page says beside the cone of its log, so that nobody trusts it further than it goes."""

import pytest

from tests import make
from tests.reading import text_of
from tests.tiles.kiln_history import fired


@pytest.mark.parametrize(("cools", "said"), [(False, True), (True, False)])
def test_a_log_that_ends_at_its_hottest_is_said_to(client, people, cools, said):
    firing = fired(make.kiln(), {"middle": 0}, cools=cools)
    client.force_login(people["member"])
    page = text_of(client.get(firing.get_absolute_url()))
    assert ("The log ends at its hottest, 1222 °C." in page) is said
