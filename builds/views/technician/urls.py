"""Addresses of the bench."""

from django.urls import path

from builds.views.technician import acts, bench

urlpatterns = [
    path("bench/", bench.bench, name="bench"),
    path("bench/<str:job_key>/", bench.bench_job, name="bench_job"),
    path("bench/<str:job_key>/start/", acts.bench_start, name="bench_start"),
    path("bench/<str:job_key>/stop/", acts.bench_stop, name="bench_stop"),
    path("bench/<str:job_key>/trouble/", acts.bench_trouble, name="bench_trouble"),
    path("bench/<str:job_key>/finish/", acts.bench_finish, name="bench_finish"),
    path("bench/<str:job_key>/reopen/", acts.bench_reopen, name="bench_reopen"),
    path("bench/<str:job_key>/count/", acts.bench_count, name="bench_count"),
]
