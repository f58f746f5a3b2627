#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""check-xlsx.py WICKBENCH: exports the demo as a workbook and as CSV and opens the first as a spreadsheet would.

Needs openpyxl of Debian's python3-openpyxl, so it is run by /usr/bin/python3: another python3 may come first in PATH.
"""
import csv
import datetime
import math
import os
import subprocess
import sys
import tempfile

import openpyxl

SHEETS = ["About", "Ranking", "Grid", "Figures", "Readings"]
# What every cell that is not empty is, by head; of no other head is anything claimed.
NUMBERS = {
    "Ranking": ["Inner diameter (mm)", "Wick step", "Wicks", "Load (%)", "Group", "Rank", "Score (0 to 1)", "Samples", "Burns"],
    "Grid": ["Inner diameter (mm)", "Wicks", "Load (%)", "Fill (g)", "Burns", "Fill that is left (%)"],
    "Figures": ["Burn", "Alight (min)", "Consumption (g/h)", "Flame, highest (mm)", "Vessel, hottest (°C)", "Soot (0 to 4)"],
    "Readings": ["Inner diameter (mm)", "Burn", "Since lighting (min)", "Pool depth (mm)", "Flame height (mm)",
                 "Outside base (°C)", "Mass, vessel included (g)"],
}
DATES = {"Grid": ["Poured on", "First lit at, local time"], "Figures": ["Lit at, local time"],
         "Readings": ["Poured on", "Lit at, local time"], "Ranking": []}
# Shown with so few decimals; what is kept is whole.
FORMATS = {"Ranking": {"Score (0 to 1)": "0.00", "Chance of being best (0 to 1)": "0.00", "Expected loss (0 to 1)": "0.000"},
           "Grid": {"Fill (g)": "0.0", "Fill that is left (%)": "0.0"},
           "Figures": {"Consumption (g/h)": "0.00", "Flame, highest (mm)": "0.0", "Vessel, hottest (°C)": "0.0"},
           "Readings": {}}
STATES = {"planned", "poured", "burning", "finished", "left out"}
# Head of the workbook: column of the CSV file.
SUMS = {"Since lighting (min)": "elapsed_min", "Pool depth (mm)": "depth_mm", "Flame height (mm)": "flame_mm",
        "Hottest outside wall (°C)": "vessel_c", "Outside base (°C)": "base_c", "Fill (g)": "fill_g",
        "Mass, vessel included (g)": "mass_g", "Load (%)": "load_pct"}

failures = 0


def check(true, what):
    global failures
    if not true:
        print(what, file=sys.stderr)
        failures += 1


def columns_of(sheet):
    heads = [cell.value for cell in next(sheet.iter_rows(max_row=1))]
    check(len(set(heads)) == len(heads), f"{sheet.title}: a head stands twice")
    return {head: index for index, head in enumerate(heads)}


def values_of(rows, columns, head):
    return [row[columns[head]].value for row in rows if row[columns[head]].value is not None]


def check_sheet(sheet):
    columns, rows = columns_of(sheet), list(sheet.iter_rows(min_row=2))
    check(sheet.freeze_panes == "A2", f"{sheet.title}: the heads are not frozen")
    check(len(rows) > 1, f"{sheet.title}: no rows")
    for head in NUMBERS[sheet.title]:
        values = values_of(rows, columns, head)
        check(values and all(type(value) in (int, float) for value in values), f"{sheet.title}: {head} is not all numbers")
    for head in DATES[sheet.title]:
        values = values_of(rows, columns, head)
        check(values and all(isinstance(value, datetime.datetime) for value in values), f"{sheet.title}: {head} is not all dates")
    for head, form in FORMATS[sheet.title].items():
        forms = {row[columns[head]].number_format for row in rows if row[columns[head]].value is not None}
        check(forms == {form}, f"{sheet.title}: {head} is shown as {sorted(forms)}")
    check(sheet.auto_filter.ref == sheet.dimensions, f"{sheet.title}: {sheet.auto_filter.ref} is filtered, of {sheet.dimensions}")
    for row in rows:
        for cell in row:
            check(cell.data_type in "sndb", f"{sheet.title} {cell.coordinate} is of type {cell.data_type}")
    check(values_of(rows, columns, "Invented data") == ["invented data"] * len(rows), f"{sheet.title}: not all said to be invented")
    return columns, rows


def check_about(sheet):
    made = {row[0].value: row[1].value for row in sheet.iter_rows()}["Made at, local time"]
    check(isinstance(made, datetime.datetime), f"when it was made is {made!r}, no date")


def check_ranking(ranking):
    columns, rows = ranking
    within = {}
    for row in rows:
        within.setdefault((row[columns["Experiment"]].value, row[columns["Group"]].value), set()).add(row[columns["Ranked within"]].value)
        check(row[columns["Vessel"]].value in row[columns["Ranked within"]].value, "a combination is ranked within another vessel")
    check(all(len(names) == 1 for names in within.values()), "a group has several names")


def sum_of(numbers):
    return math.fsum(float(number) for number in numbers)


def check_against(log, readings):
    columns, rows = readings
    check(len(log) == len(rows), f"{len(rows)} readings in the workbook, {len(log)} in the CSV file")
    for head, name in SUMS.items():
        ours, theirs = values_of(rows, columns, head), [row[name] for row in log if row[name]]
        check(len(ours) == len(theirs), f"{head}: {len(ours)} and {len(theirs)} values")
        check(math.isclose(sum_of(ours), sum_of(theirs), rel_tol=1e-12), f"{head}: sums differ")
    days = [str(value.date()) for value in values_of(rows, columns, "Poured on")]
    check(days == [row["poured_on"] for row in log if row["poured_on"]], "the days of the pour differ")


def check_grid(grid, log):
    columns, rows = grid
    check(set(values_of(rows, columns, "State")) <= STATES, "a state that is none")
    key = [(row[columns["Experiment"]].value, row[columns["Sample"]].value) for row in rows if row[columns["Sample"]].value]
    check(len(set(key)) == len(key), "a sample stands twice in the grid")
    check({(row["experiment"], row["sample"]) for row in log} <= set(key), "a sample with readings is not in the grid")
    burns = {}
    for row in log:
        burns.setdefault((row["experiment"], row["sample"]), set()).add(row["burn"])
    for row in rows:
        own = (row[columns["Experiment"]].value, row[columns["Sample"]].value)
        if own in burns:
            check(row[columns["Burns"]].value == len(burns[own]), f"{own}: {row[columns['Burns']].value} burns")


def main():
    wickbench = sys.argv[1]
    with tempfile.TemporaryDirectory() as folder:
        notebook, workbook, log = (os.path.join(folder, name) for name in ("demo.wickbench", "demo.xlsx", "demo.csv"))
        subprocess.run([wickbench, "demo", notebook], check=True, stdout=subprocess.DEVNULL)
        for name in (workbook, log):
            subprocess.run([wickbench, "export", notebook, "--to", name], check=True, stdout=subprocess.DEVNULL)
        book = openpyxl.load_workbook(workbook)
        with open(log, newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
    check(book.sheetnames == SHEETS, f"sheets are {book.sheetnames}")
    sheets = {name: check_sheet(book[name]) for name in SHEETS[1:]}
    check_about(book["About"])
    check_ranking(sheets["Ranking"])
    columns, readings = sheets["Readings"]
    check("standard" in values_of(readings, columns, "Kind of burn"), "no burn is said to be standard")
    check(len(values_of(readings, columns, "Kind of burn")) == len(readings), "a burn of no kind")
    check_against(rows, sheets["Readings"])
    check_grid(sheets["Grid"], rows)
    return 1 if failures else 0


sys.exit(main())
