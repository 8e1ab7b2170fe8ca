"""Every call of the API, and what each role is answered: the rows of the apps, tests/<app>/api_rows.py."""

from tests.inventory.api_rows import ROWS as SHELF
from tests.studio.api_rows import ROWS as PLACE
from tests.tiles.api_rows import ROWS as WALL
from tests.tiles.api_rows_of_findings import ROWS as FINDINGS
from tests.tiles.api_rows_of_food import ROWS as FOOD
from tests.tiles.api_rows_of_laboratory import ROWS as LABORATORY

CALLS = [*FOOD, *LABORATORY, *PLACE, *SHELF, *WALL, *FINDINGS]
