"""Every address of the site, by who uses it."""

from django.urls import URLPattern, URLResolver, include, path

from builds.views import health, home

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("healthz", health.healthz, name="healthz"),
    path("readyz", health.readyz, name="readyz"),
    path("", include("builds.views.accounts.urls")),
    path("sign-out/", home.sign_out, name="sign_out"),
    path("enter/", home.enter, name="enter"),
    path("", include("builds.views.promises.urls")),
    path("", include("builds.views.out.urls")),
    path("", include("builds.views.records.urls")),
    path("", include("builds.views.lead.urls")),
    path("", include("builds.views.technician.urls")),
    path("", include("builds.views.customer.urls")),
    path("", include("builds.views.shared.urls")),
    path("", include("builds.views.phone.urls")),
]

handler400 = "builds.views.errors.bad_request"
handler403 = "builds.views.errors.forbidden"
handler404 = "builds.views.errors.not_found"
handler500 = "builds.views.errors.server_error"
