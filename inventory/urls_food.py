"""Addresses of what is in a glaze and of a misread label; parts of the namespace in inventory/urls.py."""

from django.urls import path

from inventory.views import substances

substances_and_labels = [
    path("glazes/<uuid:pk>/inside/new/", substances.new, name="substance-new"),
    path("glazes/<uuid:pk>/inside/<uuid:row>/back/", substances.take_back, name="substance-back"),
    path("fills/<uuid:pk>/label/mistaken/", substances.mistaken_label, name="label-mistaken"),
]
