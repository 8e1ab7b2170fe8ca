from django.urls import path

from studio.api.urls import docs_urlpatterns
from studio.views import account, health, help, history, home, join, login, people, settings, stations

app_name = "studio"
urlpatterns = [
    path("", home.home, name="home"),
    path("help/", help.tour, name="help"),
    path("help/away/", help.put_away, name="help-away"),
    path("help/cautions/", help.cautions, name="help-cautions"),
    path("more/", home.more, name="more"),
    path("robots.txt", home.robots, name="robots"),
    path("healthz", health.healthz, name="healthz"),
    path("login/", login.log_in, name="login"),
    path("logout/", login.log_out, name="logout"),
    path("join/<str:secret>/", join.join, name="join"),
    path("account/", account.account, name="account"),
    path("account/password/", account.password, name="account-password"),
    path("account/pin/", account.pin, name="account-pin"),
    path("account/tokens/", account.tokens, name="account-tokens"),
    path("account/tokens/<uuid:id>/revoke/", account.revoke, name="token-revoke"),
    path("people/", people.people, name="people"),
    path("people/invite/", people.invite_somebody, name="invite"),
    path("people/invitations/<uuid:id>/withdraw/", people.withdraw, name="invitation-withdraw"),
    path("people/<uuid:id>/", people.person, name="person"),
    path("people/<uuid:id>/forget/", people.forget, name="person-forget"),
    path("people/<uuid:id>/new-password/", people.new_password, name="person-new-password"),
    path("history/", history.history, name="history"),
    path("history/<str:label>/<uuid:id>/", history.history_of, name="history-of"),
    path("settings/", settings.studio_settings, name="settings"),
    path("stations/", stations.stations, name="stations"),
    path("stations/<uuid:id>/close/", stations.close, name="station-close"),
    path("station/", stations.front, name="station"),
    path("station/step-up/", stations.step_up_page, name="station-step-up"),
    path("station/here/", stations.here, name="station-here"),
    *docs_urlpatterns,
]
