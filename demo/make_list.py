"""Write the demo's guest list, as a club secretary would send it.

All guests are invented. The rows hold, on purpose, what real lists hold: letters of many
languages, stray blanks, lost capitals, a date where a name was typed, and the rest.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.worksheet import Worksheet

HERE = Path(__file__).resolve().parent / "winter-gala"

# name, instrument, hand, how many, note
GUESTS: list[tuple[object, ...]] = [
    ("Amara Okonkwo", "Conductor", None, 1, "the big cup photo is with her"),
    ("Zoë Lindqvist", "Violin I, leader", "R", 1, None),
    ("Saoirse Ní Bhriain", "Violin I", None, 1, None),
    ("Nguyễn Thị Ánh Tuyết", "Violin I", None, 1, None),
    ("Łukasz Śmigielski", "Violin I", "L", 1, None),
    ("Guðrún Þórðardóttir", "Violin I", None, 1, None),
    ("Théo d'Aubigny", "Violin II", None, None, None),
    ("  Ingrid   Sæther ", "Violin II", None, 1, "blanks as she typed them"),
    ("Mateus Gonçalves", "Violin II", "left", 1, None),
    ("HANNELORE WEISS", "Violin II", None, 1, None),
    ("pádraig o'dea", "Violin II", None, 1, None),
    ("Anežka Dvořáčková", "Viola", None, 1, None),
    ("Özlem Karagöz", "Viola", None, 1, None),
    ("Wilhelmina Featherstonehaugh-Cholmondeley-Smythe", "Viola", None, 1, "she likes it in full"),
    ("Bartholomew Aldous Whittingstall-Greene", "Viola", None, 1, None),
    ("Jürgen Groß", "Cello", "links", 1, None),
    ("Chiara Bellandi", "Cello", "l", 1, None),
    ("Marek Wiśniewski", "Cello", None, 2, "second one for his desk partner's birthday"),
    ("Noor van der Heijden", "Cello", None, 1, None),
    ("Ștefania Țurcanu", "Double bass", None, 1, None),
    ("Tomás (bass)", "Double bass", None, 1, None),
    ("Aoife Brennan", "Flute", None, 1, None),
    ("Lucía Ibáñez", "Piccolo", None, 1, None),
    (dt.date(2026, 5, 1), "Oboe", None, 1, "May Day was a nickname"),
    ("Bérénice Lafleur", "Oboe, cor anglais", None, 1, None),
    ("Kaito Mori", "Clarinet", None, 1, None),
    ("Αλέξανδρος Παππάς", "Clarinet", None, 1, None),
    ("李美玲", "Bass clarinet", None, 1, "Li Meiling, ask how she wants it"),
    ("Rūta Kazlauskienė", "Bassoon", None, 1, None),
    ("Marta Oduya \N{VIOLIN}", "Contrabassoon", None, 1, None),
    ("Sigurður Jónsson", "Horn", "R", 1, None),
    ("Priya Raghunathan", "Horn", None, 1, None),
    ("FranÃ§ois BÃ©langer", "Trumpet", None, 1, "as it came out of the members' database"),
    ("Elif Şahin", "Trumpet", "Left", 1, None),
    ("Jonas Ek", "Trombone", None, 1, None),
    ("Veronika Hájková", "Tuba", None, 1, None),
    (
        "Pаvel Sorokin",
        "Timpani",
        None,
        1,
        "copied from his e-mail",
    ),  # the second letter is Cyrillic
    ("Dafydd Llewellyn", "Percussion", None, 1, None),
    ("Keiko\nTanabe", "Harp", None, 1, None),
    ("zoe lindqvist", "Librarian", None, 1, "the same Zoë?"),
    ("Grace Achterberg", "Page turner", None, 0, "does not want one"),
]


def main() -> None:
    """Write ``winter-gala/guests.xlsx``."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Players"
    sheet["A1"] = "Harbour Lane Orchestra: winter gala cups"
    sheet["A1"].font = Font(bold=True, size=14)
    sheet.merge_cells("A1:E1")
    sheet["A2"] = "Please send to the engraver by the end of the month. Anouk, secretary"
    headers = ("Name (as on the cup)", "Instrument", "Hand", "How many", "Notes")
    for column, header in enumerate(headers, start=1):
        cell = sheet.cell(4, column, header)
        cell.font = Font(bold=True)
        cell.fill = PatternFill("solid", fgColor="DDE5EE")
    row = 5
    for at, guest in enumerate(GUESTS):
        if at in (11, 21):  # a blank row between the sections, as secretaries like it
            row += 1
        for column, value in enumerate(guest, start=1):
            sheet.cell(row, column, value)
        if guest[0] == "Aoife Brennan":
            sheet.cell(row, 1).value = CellRichText(
                TextBlock(InlineFont(b=True), "Aoife"), " Brennan"
            )
        if guest[0] == "Keiko\nTanabe":
            sheet.cell(row, 1).alignment = Alignment(wrap_text=True)
        row += 1
    sheet.cell(row, 1, "Olivia Marchbanks")
    sheet.cell(row, 2, "Violin II")
    sheet.cell(row, 5, "left the orchestra")
    sheet.row_dimensions[row].hidden = True
    sheet.column_dimensions["A"].width = 46
    sheet.column_dimensions["B"].width = 20
    sheet.column_dimensions["E"].width = 44
    budget = book.create_sheet("Budget")
    budget.append(("Item", "Each", "Total"))
    budget.append(("Cups", 24.5, "=B2*42"))
    book.properties.creator = "Harbour Lane Orchestra"
    book.properties.created = book.properties.modified = dt.datetime(2026, 11, 2, 9, 0)
    HERE.mkdir(exist_ok=True)
    book.save(HERE / "guests.xlsx")


if __name__ == "__main__":
    main()
