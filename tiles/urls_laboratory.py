"""Laboratory reports and trials at home; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import home_trials, laboratory

urlpatterns = [
    path("lab-reports/", laboratory.reports, name="report-list"),
    path("lab-reports/new/", laboratory.new, name="report-new"),
    path("lab-reports/<uuid:pk>/", laboratory.page, name="report"),
    path("lab-reports/<uuid:pk>/edit/", laboratory.edit, name="report-edit"),
    path("lab-reports/<uuid:pk>/withdraw/", laboratory.withdraw, name="report-withdraw"),
    path("lab-reports/<uuid:pk>/file", laboratory.file, name="report-file"),
    path("lab-reports/<uuid:pk>/files/<str:key>", laboratory.earlier_file, name="report-file-earlier"),
    path("t/<str:number>/home-trial", home_trials.begin, name="trial-begin"),
    path("home-trials/<uuid:pk>/end/", home_trials.end, name="trial-end"),
    path("home-trials/<uuid:pk>/photo/", home_trials.add_photo, name="trial-photo-add"),
    path("home-trials/<uuid:pk>/back/", home_trials.take_back, name="trial-back"),
    path("home-trials/photos/<uuid:photo>/away", home_trials.archive, name="trial-photo-away"),
    path("home-trials/photos/<uuid:photo>/<str:size>", home_trials.sized, name="trial-photo"),
]
