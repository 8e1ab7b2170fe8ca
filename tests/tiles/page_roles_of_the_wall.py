"""Who may do what on the wall, with firings, clay, kilns and combinations."""

from tests.world import Row

PLANNING = {"kind": "glaze", "target_cone": "6", "atmosphere": "oxidation"}
WITNESS = {"w-TOTAL_FORMS": "0", "w-INITIAL_FORMS": "0"}

SEARCH = {"name": "Satin for mugs", "query": "surface=satin"}


def _firing(w):
    return {"number": w.firing.number}


def _body(w):
    return {"pk": w.body.pk}


def _search(w):
    return {"pk": w.search.pk}


def _kiln(w):
    return {"pk": w.kiln.pk}


ROWS = [
    Row("tiles:wall"),
    Row("tiles:wall", data=lambda w: {"surface": "satin", "body": w.body.pk}),
    Row("tiles:wall-csv"),
    Row("tiles:wall-csv", data=lambda w: {"surface": "shiny"}, member=400, technician=400, manager=400),
    Row("tiles:wall-counts"),
    Row("tiles:wall-counts", data=lambda w: {"surface": "satin"}),
    Row("tiles:compare"),
    Row("tiles:compare", data=lambda w: {"t": [w.tile.number, w.private_tile.number]}),
    Row("tiles:search-save"),
    Row("tiles:search-save", "post", data=lambda w: SEARCH, member=302, technician=302, manager=302),
    Row("tiles:search", kwargs=_search, technician=404, manager=404),
    Row(
        "tiles:search",
        "post",
        kwargs=_search,
        data=lambda w: {**SEARCH, "version": w.search.version},
        member=302,
        technician=404,
        manager=404,
    ),
    Row("tiles:search", kwargs=lambda w: {"pk": w.shared_search.pk}, member=404),
    Row("tiles:search-archive", kwargs=_search, technician=404, manager=404),
    Row(
        "tiles:search-archive",
        "post",
        kwargs=lambda w: {"pk": w.shared_search.pk},
        data=lambda w: {"version": w.shared_search.version},
        member=404,
        technician=302,
        manager=302,
    ),
    Row("tiles:firing-list"),
    Row("tiles:firing-new", member=403),
    Row(
        "tiles:firing-new",
        "post",
        data=lambda w: {**PLANNING, "kiln": w.kiln.pk},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:firing", kwargs=_firing),
    Row("tiles:firing", kwargs=lambda w: {"number": 999}, member=404, technician=404, manager=404),
    Row("tiles:firing-edit", kwargs=_firing, member=403),
    Row(
        "tiles:firing-edit",
        "post",
        kwargs=_firing,
        data=lambda w: {**PLANNING, "kiln": w.kiln.pk, "version": w.firing.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row(
        "tiles:firing-move",
        "post",
        kwargs=_firing,
        data=lambda w: {"state": "loading", "version": w.firing.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:firing-witness", kwargs=_firing, member=403),
    Row(
        "tiles:firing-witness",
        "post",
        kwargs=_firing,
        data=lambda w: WITNESS,
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:body-list"),
    Row("tiles:body-new", member=403),
    Row(
        "tiles:body-new",
        "post",
        data=lambda w: {"name": "Sluice Red", "colour": "red"},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:body", kwargs=_body, member=403),
    Row(
        "tiles:body",
        "post",
        kwargs=_body,
        data=lambda w: {"name": "Sluice Red", "colour": "red", "version": w.body.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:body-archive", kwargs=_body, member=403),
    Row(
        "tiles:body-archive",
        "post",
        kwargs=_body,
        data=lambda w: {"version": w.body.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:kiln-list"),
    Row("tiles:kiln-new", member=403),
    Row(
        "tiles:kiln-new",
        "post",
        data=lambda w: {"name": "In the barn", "positions": "top"},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:kiln-edit", kwargs=_kiln, member=403),
    Row(
        "tiles:kiln-edit",
        "post",
        kwargs=_kiln,
        data=lambda w: {"name": "In the barn", "positions": "top", "version": w.kiln.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:kiln-archive", kwargs=_kiln, member=403),
    Row(
        "tiles:kiln-archive",
        "post",
        kwargs=_kiln,
        data=lambda w: {"version": w.kiln.version},
        member=403,
        technician=302,
        manager=302,
    ),
    Row("tiles:combination-list"),
    Row("tiles:combination", kwargs=lambda w: {"pk": w.combination.pk}),
    Row(
        "tiles:combination",
        kwargs=lambda w: {"pk": w.private_tile.zones.get().combination_id},
        member=404,
    ),
    Row(
        "tiles:combination",
        "post",
        kwargs=lambda w: {"pk": w.combination.pk},
        data=lambda w: {"remark": "lovely", "version": w.combination.version},
        member=302,
        technician=302,
        manager=302,
    ),
]
