"""Writes the workbooks beside it, with openpyxl 3.1 and XlsxWriter 3.2: programs that have nothing to do with what reads them."""

import datetime as dt
from pathlib import Path

import openpyxl
import xlsxwriter

here = Path(__file__).parent
tags = [f"30395DFA8339C0000000{i:04X}" for i in range(10)]
start = dt.datetime(2026, 5, 21, 9, 0, 0)
names = ["Round", "Pass", "Read point", "Start", "End", "Speed (m/s)", None, "Tag orientation", "EPC", "Read", "RSSI (dBm)", "Ant"]


def rows():
    for p in range(6):
        begun = start + dt.timedelta(minutes=2 * p)
        for t, tag in enumerate(tags):
            read = (p + 3 * t) % 11 != 0
            level = [-50.5 - t, 1 + t % 2] if read else [None, None]
            yield ["as-left", p + 1, "dock-1", begun, begun + dt.timedelta(seconds=30.25), 1 + p * 0.1, None,
                   "flat" if t % 2 else "edge-on", tag, read, *level]
        yield []


def walk():
    book = openpyxl.Workbook()
    lists = book.active
    lists.title = "Lists"
    lists["A1"] = "as-left"
    lists.sheet_state = "hidden"
    sheet = book.create_sheet("Dock 1")
    sheet.merge_cells("B2:M2")
    sheet["B2"] = "Dock door 1, as left"
    for c, name in enumerate(names):
        sheet.cell(4, 2 + c, name)
    for r, row in enumerate(rows()):
        for c, value in enumerate(row):
            sheet.cell(5 + r, 2 + c, value)
            if isinstance(value, dt.datetime):
                sheet.cell(5 + r, 2 + c).number_format = "dd/mm/yyyy hh:mm"
    book.create_sheet("Notes")["A1"] = "Walked in the rain"
    book.save(here / "walk.xlsx")


def cage():
    book = xlsxwriter.Workbook(here / "cage.xlsx")
    sheet = book.add_worksheet("Cage A")
    sheet.merge_range("A1:B1", "Cage A")
    sheet.write_row("A3", ["Tag ID", "Tag orientation"])
    for t, tag in enumerate(tags):
        sheet.write_string(3 + t, 0, tag)
        sheet.write_formula(3 + t, 1, f'=IF(MOD({t},2)=1,"flat","edge-on")', None, "flat" if t % 2 else "edge-on")
    book.close()


def faults():
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Dock 1"
    sheet.append(["round", "pass", "read_point", "tag", "read"])
    sheet.append(["as-left", 1, "dock-1", 331645000000000000000000, "yes"])
    sheet.append(["as-left", 1, "dock-1", "T2", "#N/A"])
    sheet.append(["as-left", 1, "dock-1", "=A2", "yes"])
    sheet.append(["as-left", 1, "dock-1", "T4", "perhaps"])
    book.create_sheet("Dock 2").append(["round", "pass", "read_point", "tag", "read"])
    book["Dock 2"].append(["as-left", 2, "dock-2", "T1", "yes"])
    book.save(here / "faults.xlsx")


walk()
cage()
faults()
