"""Lessons for the tests alone; the fixture write_lesson puts them where lessons are read."""

HEAD = """
title = "A lesson of the tests"
[run.full]
car = "sedan"
[run.short]
car = "sedan"
charge_fraction = 0.4
[run.still]
car = "sedan"
faults = { clutch_not_engaged = 1.0 }
[number.day]
of = "given"
temperature_c = 35
[number.low]
of = "bench"
run = "full"
reading = "low_side_kpa_gauge"
"""
GOOD = """
[question.good]
section = "check"
kind = "choice"
ask = "At {day}?"
options = [{ text = "yes", why = "so it is", right = true }, { text = "no", why = "it is not" }]
"""
