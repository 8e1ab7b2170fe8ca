"""What the roles are answered by the API, in the order of test_api_roles.py: the answers that many rows share."""

EVERYBODY = "401 200 200 200 200 200"
WRITES = "401 200 200 200 403 200"  # every member, by session or by a token that may write
ADDS = "401 201 201 201 403 201"
TECHNICIANS_WRITE = "401 403 200 200 403 403"
TECHNICIANS_ADD = "401 403 201 201 403 403"
MANAGERS = "401 403 403 200 403 403"
# The tile (or jar) is the member's; the device's owner is the technician, but a device is a member.
OWN_TILE = "401 200 200 200 403 403"
OWN_TILE_ADD = "401 201 201 201 403 403"
# A class list is the member's and the technicians'; the device's owner is the technician, but a device is a member.
OWN_CLASS_READ = "401 200 200 200 200 404"
OWN_CLASS = "401 200 200 200 403 404"
OWN_LOOSE = "401 200 200 200 200 404"
PRIVATE = "401 404 200 200 404 404"
