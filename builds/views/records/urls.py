"""The addresses of the records."""

from __future__ import annotations

from django.urls import path

from builds.views.records import (
    addresses,
    cars,
    entries,
    exchange,
    jobs,
    keys,
    links,
    people,
    person_parts,
    places,
    read_back,
    record,
    sheets,
    shows,
    vendor_page,
    vendors,
    weeks,
    workshop,
)

assert keys.PlanKey.regex
CAR = "cars/<plan_key:build_key>/"
JOB = "jobs/<plan_key:job_key>/"
PERSON = "people/<plan_key:person_key>/"
VENDOR = "vendors/<plan_key:vendor_key>/"
WEEK = "weeks/<plan_key:calendar_key>/"
PLACE = "places/<plan_key:place_key>/"
SHOW = "shows/<plan_key:show_key>/"

urlpatterns = [
    path("new/car/", cars.car_new, name="car_new"),
    path(CAR + "edit/", cars.car_edit, name="car_edit"),
    path(CAR + "leave-out/", cars.car_leave_out, name="car_leave_out"),
    path(CAR + "restore/", cars.car_restore, name="car_restore"),
    path(CAR + "jobs/new/", jobs.job_new, name="job_new"),
    path(JOB + "edit/", jobs.job_edit, name="job_edit"),
    path(JOB + "places/", jobs.job_places, name="job_places"),
    path(JOB + "first/", links.link_add, name="link_add"),
    path(JOB + "first/<int:number>/remove/", links.link_remove, name="link_remove"),
    path("people/", people.people, name="people"),
    path("new/person/", people.person_new, name="person_new"),
    path(PERSON + "trades/", person_parts.person_trades, name="person_trades"),
    path(PERSON + "away/", person_parts.days_away_add, name="days_away_add"),
    path(
        PERSON + "away/<int:number>/remove/",
        person_parts.days_away_remove,
        name="days_away_remove",
    ),
    path(PERSON + "leave-out/", people.person_leave_out, name="person_leave_out"),
    path(PERSON + "restore/", people.person_restore, name="person_restore"),
    path(PERSON, people.person, name="person"),
    path("vendors/", vendors.vendors, name="vendors"),
    path("new/vendor/", vendors.vendor_new, name="vendor_new"),
    path(VENDOR + "closed/", vendor_page.closure_add, name="closure_add"),
    path(
        VENDOR + "closed/<int:number>/remove/",
        vendor_page.closure_remove,
        name="closure_remove",
    ),
    path(VENDOR + "leave-out/", vendors.vendor_leave_out, name="vendor_leave_out"),
    path(VENDOR + "restore/", vendors.vendor_restore, name="vendor_restore"),
    path(VENDOR, vendors.vendor, name="vendor"),
    path("shows/", shows.shows, name="shows"),
    path("new/show/", shows.show_new, name="show_new"),
    path(SHOW + "entries/", entries.entry_add, name="entry_add"),
    path(
        SHOW + "entries/<int:number>/withdraw/",
        entries.entry_withdraw,
        name="entry_withdraw",
    ),
    path(SHOW + "cancel/", shows.show_cancel, name="show_cancel"),
    path(SHOW + "restore/", shows.show_restore, name="show_restore"),
    path(SHOW, shows.show_edit, name="show"),
    path("plan-file/", exchange.exchange, name="exchange"),
    path("plan-file/download/", exchange.plan_download, name="plan_download"),
    path("spreadsheet/", sheets.move_in, name="move_in"),
    path("spreadsheet/out/<str:name>", sheets.sheet_download, name="sheet_download"),
    path("spreadsheet/<int:number>/", sheets.sheet, name="sheet"),
    path("spreadsheet/<int:number>/take/", sheets.sheet_take, name="sheet_take"),
    path("new/week/", weeks.week_new, name="week_new"),
    path(WEEK + "usual/", weeks.week_usual, name="week_usual"),
    path(WEEK + "remove/", weeks.week_remove, name="week_remove"),
    path(WEEK, weeks.week, name="week"),
    path("new/place/", places.place_new, name="place_new"),
    path(PLACE + "remove/", places.place_remove, name="place_remove"),
    path(PLACE, places.place, name="place"),
    path("record/", record.record, name="record"),
    path(CAR + "record/", record.car_record, name="car_record"),
    path("addresses/", addresses.addresses, name="addresses"),
    path(
        "addresses/<int:number>/replace/",
        addresses.address_replace,
        name="address_replace",
    ),
    path(
        "addresses/<int:number>/take-back/",
        addresses.address_revoke,
        name="address_revoke",
    ),
    path("workshop/levels/", workshop.levels, name="levels"),
    path("workshop/", workshop.workshop, name="workshop"),
    path("understood/", read_back.understood, name="understood"),
]
