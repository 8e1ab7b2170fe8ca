"""Tiles made in runs, hung on boards, and glazed many at once."""

from django.urls import path

from tiles.views import boards, findings, repeat, runs, sets

urlpatterns = [
    path("log/numbers/", runs.reserve, name="number-reserve"),
    path("log/numbers/<uuid:run>/", runs.written, name="number-run"),
    path("log/runs/", runs.listing, name="run-list"),
    path("log/runs/<uuid:run>/", runs.page, name="run"),
    path("log/several/", runs.several, name="tiles-several"),
    path("log/set/", sets.page, name="log-set"),
    path("log/set/tiles/", sets.choose, name="set-choose"),
    path("log/set/check/", sets.check, name="set-check"),
    path("log/set/done/", sets.done, name="set-done"),
    path("boards/<uuid:pk>/", boards.board, name="board"),
    path("t/<str:number>/same", repeat.page, name="tile-repeat"),
    path("t/<str:number>/answer", findings.answer, name="finding-answer"),
]
