"""Addresses of what is done to a fill, and of the SG round; parts of the namespace in inventory/urls.py."""

from django.urls import path

from inventory.views import life, pouring, reviving, rounds

life_and_rounds = [
    path("b/<str:code>/top-up", life.more, name="top-up"),
    path("b/<str:code>/treatment", life.treatment, name="treatment-new"),
    path("b/<str:code>/pour", pouring.pour, name="pour"),
    path("b/<str:code>/revive", reviving.bring_back, name="revive"),
    path("b/<str:code>/wash-out", life.washing_out, name="wash-out"),
    path("fills/<uuid:pk>/", life.fill, name="fill"),
    path("round/", rounds.start, name="round"),
    path("round/<uuid:pk>/", rounds.walk, name="round-walk"),
    path("round/<uuid:pk>/cup/", rounds.cup, name="round-cup"),
    path("round/<uuid:pk>/pass/", rounds.passing, name="round-pass"),
    path("round/<uuid:pk>/finish/", rounds.finish, name="round-finish"),
    path("round/<uuid:pk>/summary/", rounds.summary, name="round-summary"),
]
