"""The shelf's addresses. `/b/<code>` is printed on lids and lives for ever."""

from django.urls import include, path

from inventory.views import (
    bucket,
    buckets,
    fills,
    finding,
    flag_actions,
    flags,
    glazes,
    places,
    readings,
    shelf,
)

pages = [
    path("shelf/", shelf.shelf, name="shelf"),
    path("b/", finding.find, name="bucket-find"),
    path("b/<str:code>/sg", readings.new, name="reading-new"),
    path("b/<str:code>/flag", flag_actions.new, name="flag-new"),
    path("b/<str:code>/stock", fills.stock, name="stock-new"),
    path("b/<str:code>/fill", fills.new, name="fill-new"),
    path("b/<str:code>/edit", buckets.edit, name="bucket-edit"),
    path("b/<str:code>/archive", buckets.archive, name="bucket-archive"),
    path("b/<str:code>/label", buckets.label, name="bucket-label"),
    path("buckets/new/", buckets.new, name="bucket-new"),
    path("fills/<uuid:pk>/edit/", fills.edit, name="fill-edit"),
    path("fills/<uuid:pk>/end/", fills.end, name="fill-end"),
    path("flags/", flags.index, name="flag-list"),
    path("flags/<uuid:pk>/", flags.flag, name="flag"),
    path("flags/<uuid:pk>/note/", flag_actions.note, name="flag-note"),
    path("flags/<uuid:pk>/withdraw/", flag_actions.withdraw, name="flag-withdraw"),
    path("flags/<uuid:pk>/clear/", flag_actions.clear, name="flag-clear"),
    path("glazes/", glazes.index, name="glaze-list"),
    path("glazes/new/", glazes.new, name="glaze-new"),
    path("glazes/<uuid:pk>/", glazes.glaze, name="glaze"),
    path("glazes/<uuid:pk>/edit/", glazes.edit, name="glaze-edit"),
    path("glazes/<uuid:pk>/archive/", glazes.archive, name="glaze-archive"),
    path("places/", places.index, name="place-list"),
    path("places/new/", places.new, name="place-new"),
    path("places/<uuid:pk>/edit/", places.edit, name="place-edit"),
    path("places/<uuid:pk>/archive/", places.archive, name="place-archive"),
]

urlpatterns = [
    path("b/<str:code>", bucket.bucket, name="bucket"),
    path("", include((pages, "inventory"))),
]
