#!/usr/bin/env python3
"""Reads season.ics with Python's icalendar and writes parsed.csv: what a calendar program makes of it.

Run:  python3 generate.py   (needs icalendar; version in README.md)
season.ics is what `web::calendar_text` writes of the events in crates/web/tests/calendar.rs.
"""
import csv

from icalendar import Calendar

with open("season.ics", "rb") as file:
    calendar = Calendar.from_ical(file.read())
assert not calendar.errors, calendar.errors

with open("parsed.csv", "w", newline="") as out:
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(["uid", "start", "end", "summary", "description", "category", "status", "transp", "sequence", "stamp"])
    for event in calendar.walk("VEVENT"):
        assert not event.errors, event.errors
        rows.writerow([
            event["UID"],
            event.decoded("DTSTART").isoformat(),
            event.decoded("DTEND").isoformat(),
            event["SUMMARY"],
            event["DESCRIPTION"],
            ",".join(event["CATEGORIES"].cats),
            event["STATUS"],
            event["TRANSP"],
            event["SEQUENCE"],
            event.decoded("DTSTAMP").strftime("%Y-%m-%dT%H:%M:%SZ"),
        ])
