"""Writes the workbooks of this folder. See README.md."""
import datetime as dt
from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904

DAY = dt.date(2026, 2, 10)

book = Workbook()
sheet = book.active
sheet.title = "Scale"
sheet.append(["Date", "Snake", "Weight (g)", "Sex"])
sheet.append([DAY, "F03", 1731, 0.1])
sheet.append([dt.datetime(2026, 2, 9, 21, 30), "M04", 812.5, 1.0])
sheet.append(["2026-02-08", "F05", "1,999", "0.1"])
food = book.create_sheet("Food")
food.append(["Fed on", "Animal", "Prey", "Qty", "Ate"])
food.append([DAY, "F03", "small rat", "=1+1", True])
food.append([DAY, "M04", "small rat", 1, False])
book.create_sheet("Sheet3")
book.save("room.xlsx")

book = Workbook()
book.epoch = CALENDAR_MAC_1904
sheet = book.active
sheet.append(["Date", "Animal", "g"])
sheet.append([DAY, "F03", 1731])
sheet.append([44601, "M04", 812])
book.save("from1904.xlsx")

book = Workbook()
sheet = book.active
sheet["A1"] = "Weights of 2026"
sheet.merge_cells("A1:C1")
sheet.append(["Animal", dt.date(2026, 1, 10), DAY])
sheet.append(["F03", 1700, 1731])
sheet.append(["M04", None, 812])
sheet.append(["Total", 1700, 2543])
book.save("grid.xlsx")
