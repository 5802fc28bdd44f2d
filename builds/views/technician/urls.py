"""Addresses of the bench."""

from django.urls import path

from builds.views.records import keys
from builds.views.technician import acts, bench

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known
JOB = "bench/<plan_key:job_key>/"

urlpatterns = [
    path("bench/", bench.bench, name="bench"),
    path(JOB + "start/", acts.bench_start, name="bench_start"),
    path(JOB + "stop/", acts.bench_stop, name="bench_stop"),
    path(JOB + "trouble/", acts.bench_trouble, name="bench_trouble"),
    path(JOB + "finish/", acts.bench_finish, name="bench_finish"),
    path(JOB + "reopen/", acts.bench_reopen, name="bench_reopen"),
    path(JOB + "undo/<int:number>/", acts.bench_undo, name="bench_undo"),
    path(JOB + "count/", acts.bench_count, name="bench_count"),
    path(JOB, bench.bench_job, name="bench_job"),
]
