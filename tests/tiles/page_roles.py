"""The wall's pages. See tests/test_page_roles.py."""

from tests.tiles import (
    page_roles_of_a_tile,
    page_roles_of_causes,
    page_roles_of_findings,
    page_roles_of_firings,
    page_roles_of_food,
    page_roles_of_kilns,
    page_roles_of_laboratory,
    page_roles_of_logs,
    page_roles_of_making,
    page_roles_of_people,
    page_roles_of_schedules,
    page_roles_of_the_wall,
    page_roles_of_unloading,
)

ROWS = [
    *page_roles_of_a_tile.ROWS,
    *page_roles_of_causes.ROWS,
    *page_roles_of_food.ROWS,
    *page_roles_of_laboratory.ROWS,
    *page_roles_of_making.ROWS,
    *page_roles_of_findings.ROWS,
    *page_roles_of_firings.ROWS,
    *page_roles_of_kilns.ROWS,
    *page_roles_of_logs.ROWS,
    *page_roles_of_people.ROWS,
    *page_roles_of_schedules.ROWS,
    *page_roles_of_the_wall.ROWS,
    *page_roles_of_unloading.ROWS,
]
