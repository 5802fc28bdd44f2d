"""Every address of the site, by who uses it."""

from django.urls import URLPattern, URLResolver, include, path

from builds.views import home

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("", include("builds.views.accounts.urls")),
    path("sign-out/", home.sign_out, name="sign_out"),
    path("enter/", home.enter, name="enter"),
    path("", include("builds.views.records.urls")),
    path("", include("builds.views.lead.urls")),
    path("", include("builds.views.technician.urls")),
    path("", include("builds.views.customer.urls")),
    path("", include("builds.views.shared.urls")),
]
