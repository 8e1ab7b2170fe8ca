"""The studio's own pages. See tests/test_page_roles.py."""

from tests import make
from tests.world import Row

SETTINGS = {
    "version": 1,
    "name": "Millrace Clay Co-op",
    "time_zone": "Europe/Dublin",
    "language": "en",
    "temperature_unit": "c",
    "units": "metric",
    "bucket_pages_open": "on",
    "sg_stale_after_days": 30,
}
STORED = {"member": 302, "technician": 302, "manager": 302}
MANAGERS = {"member": 403, "technician": 403}

ROWS = [
    Row("studio:home", **STORED),
    Row("studio:more"),
    Row("studio:robots", visitor=200),
    Row("studio:healthz", visitor=200),
    Row("studio:login", visitor=200, **STORED),
    Row("studio:login", "post", data=lambda w: {"username": "nobody"}, visitor=200, **STORED),
    Row(
        "studio:login",
        "post",
        data=lambda w: {"username": w.member.username, "password": make.PASSWORD},
        **STORED,
        anywhere=True,
    ),
    Row("studio:logout", "post", **STORED, anywhere=True),
    Row("studio:join", kwargs=lambda w: {"secret": w.invitation_secret}, visitor=200),
    Row("studio:join", "post", kwargs=lambda w: {"secret": w.invitation_secret}, visitor=200),
    Row(
        "studio:join",
        "post",
        kwargs=lambda w: {"secret": w.invitation_secret},
        data=lambda w: {
            "username": "newt",
            "name": "Newt",
            "password": "four-odd-words",
            "again": "four-odd-words",
        },
        **STORED,
        anywhere=True,
    ),
    Row(
        "studio:join",
        kwargs=lambda w: {"secret": "unheard-of"},
        visitor=404,
        member=404,
        technician=404,
        manager=404,
    ),
    Row("studio:account"),
    Row(
        "studio:account",
        "post",
        data=lambda w: {"name": "Wren", "temperature_unit": "f", "units": "us"},
        **STORED,
    ),
    Row("studio:account-password"),
    Row(
        "studio:account-password",
        "post",
        data=lambda w: {"old": make.PASSWORD, "new": "four-odd-words", "again": "four-odd-words"},
        **STORED,
    ),
    Row("studio:account-tokens"),
    # The key is in the answer itself.
    Row(
        "studio:account-tokens",
        "post",
        data=lambda w: {"name": "sheet", "scope": "read", "kind": "person", "days": 9},
    ),
    Row(
        "studio:token-revoke",
        "post",
        kwargs=lambda w: {"id": w.token.pk},
        member=302,
        technician=404,
        manager=404,
    ),
    Row("studio:people"),
    Row("studio:invite", **MANAGERS),
    Row("studio:invite", "post", data=lambda w: {"note": "Newt", "role": "member", "days": 14}, **MANAGERS),
    Row(
        "studio:invitation-withdraw",
        "post",
        kwargs=lambda w: {"id": w.invitation.pk},
        **MANAGERS,
        manager=302,
    ),
    Row("studio:person", kwargs=lambda w: {"id": w.other.pk}, **MANAGERS),
    Row(
        "studio:person",
        "post",
        kwargs=lambda w: {"id": w.other.pk},
        data=lambda w: {"name": "Wren", "role": "technician", "is_active": "on"},
        **MANAGERS,
        manager=302,
    ),
    Row("studio:person-new-password", "post", kwargs=lambda w: {"id": w.other.pk}, **MANAGERS),
    Row("studio:history", member=403),
    Row("studio:history-of", kwargs=lambda w: {"label": "tiles.tile", "id": w.others_tile.pk}),
    Row("studio:history-of", kwargs=lambda w: {"label": "tiles.tile", "id": w.private_tile.pk}, member=404),
    Row("studio:history-of", kwargs=lambda w: {"label": "studio.person", "id": w.member.pk}),
    Row("studio:history-of", kwargs=lambda w: {"label": "studio.person", "id": w.other.pk}, member=404),
    Row("studio:history-of", kwargs=lambda w: {"label": "studio.token", "id": w.token.pk}),
    Row(
        "studio:history-of",
        kwargs=lambda w: {"label": "studio.invitation", "id": w.invitation.pk},
        member=404,
        technician=404,
    ),
    Row(
        "studio:history-of",
        kwargs=lambda w: {"label": "studio.unheard-of", "id": w.other.pk},
        member=404,
        technician=404,
        manager=404,
    ),
    Row("studio:settings", **MANAGERS),
    Row("studio:settings", "post", data=lambda w: SETTINGS, **MANAGERS, manager=302),
]
