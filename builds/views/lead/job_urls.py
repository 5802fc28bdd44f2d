"""The addresses of a job: its page, its knock-on and every act on it."""

from __future__ import annotations

from django.urls import path

from builds.views.lead import job, job_acts, job_outside, knock_on, who
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known
JOB = "jobs/<plan_key:job_key>/"

urlpatterns = [
    path(JOB + "knock-on/", knock_on.knock_on, name="knock_on"),
    path(JOB + "who/", who.job_who, name="job_who"),
    path(JOB + "start/", job_acts.job_start, name="job_start"),
    path(JOB + "stop/", job_acts.job_stop, name="job_stop"),
    path(JOB + "finish/", job_acts.job_finish, name="job_finish"),
    path(JOB + "undo/<int:number>/", job_acts.job_undo, name="job_undo"),
    path(JOB + "reopen/", job_acts.job_reopen, name="job_reopen"),
    path(JOB + "trouble/", job_acts.job_trouble, name="job_trouble"),
    path(JOB + "leave-out/", job_acts.job_leave_out, name="job_leave_out"),
    path(JOB + "restore/", job_acts.job_restore, name="job_restore"),
    path(JOB + "choice/", job_acts.job_choice, name="job_choice"),
    path(JOB + "found/", job_acts.job_found, name="job_found"),
    path(JOB + "promise/", job_outside.job_promise, name="job_promise"),
    path(JOB + "send/", job_outside.job_send, name="job_send"),
    path(JOB + "count/", job_outside.job_count, name="job_count"),
    path(JOB + "back/", job_outside.job_back, name="job_back"),
    path(JOB, job.job, name="job"),
]
