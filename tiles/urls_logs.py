"""Logs and events of a firing; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import events, logs

urlpatterns = [
    path("firings/<int:number>/log/", logs.send, name="firing-log"),
    path("firings/<int:number>/log/read/", logs.read, name="firing-log-read"),
    path("firings/<int:number>/log/back/", logs.back, name="firing-log-back"),
    path("firings/<int:number>/log.csv", logs.export, name="firing-log-csv"),
    path("firings/<int:number>/log/taken-back/<uuid:log>.csv", logs.taken, name="firing-log-taken"),
    path("firings/<int:number>/events/", events.add, name="firing-event"),
    path("firings/<int:number>/events/<uuid:event>/back/", events.away, name="firing-event-back"),
]
