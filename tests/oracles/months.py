"""Adds months to days with dateutil's relativedelta: a JSON list of [day, months] gives a JSON list of days."""

import datetime
import json
import sys

from dateutil.relativedelta import relativedelta

asked = json.load(sys.stdin)
days = [datetime.date.fromisoformat(day) + relativedelta(months=months) for day, months in asked]
json.dump([day.isoformat() for day in days], sys.stdout)
