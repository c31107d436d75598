"""Reads a calendar file (RFC 5545) with the library icalendar; writes its events as JSON, in order."""

import datetime
import json
import sys

import icalendar

read = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
events = []
for event in read.walk("VEVENT"):
    assert not event.errors, event.errors
    start = event["DTSTART"].dt
    assert type(start) is datetime.date, f"not a whole day: {start!r}"
    assert "RRULE" not in event and "RDATE" not in event
    events.append(
        {
            "uid": str(event["UID"]),
            "stamp": event["DTSTAMP"].dt.isoformat(),
            "day": start.isoformat(),
            "summary": str(event["SUMMARY"]),
            "description": str(event["DESCRIPTION"]),
        }
    )
assert not read.errors, read.errors
assert str(read["VERSION"]) == "2.0" and read["PRODID"]
json.dump(events, sys.stdout)
