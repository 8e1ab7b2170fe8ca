"""What the pages of a firing are sent in these tests, as a browser sends it."""

from django.urls import reverse


def plan(kiln_, **fields):
    given = {"kiln": kiln_.pk, "kind": "glaze", "target_cone": "6", "atmosphere": "oxidation"}
    return {**given, "schedule": "slowly to 600, then on", "remark": "glaze class", **fields}


def at(name, firing):
    return reverse(f"tiles:firing-{name}", args=[firing.number])


def rows(*given, stored=0):
    """The witness form as a browser sends it, with its three spare rows."""
    total = max(len(given), stored) + 3
    sent = {"w-TOTAL_FORMS": str(total), "w-INITIAL_FORMS": str(stored)}
    for n in range(total):
        row = {
            "position": "",
            "cone": "",
            "cone_type": "self_supporting",
            "bend_degrees": "",
            "clock": "",
            "looks_like": "",
        }
        row |= given[n] if n < len(given) else {}
        sent |= {f"w-{n}-{name}": value for name, value in row.items()}
    return sent
