"""Every address of the site."""

from django.urls import URLPattern, URLResolver, path

from builds.views import home

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("sign-in/", home.sign_in, name="sign_in"),
    path("sign-out/", home.sign_out, name="sign_out"),
    path("enter/", home.enter, name="enter"),
]
