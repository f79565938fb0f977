"""What this room says to people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from mailmerge.findings import nearest, shown, with_values

# Which file is a list


def no_such_list(path: Path) -> str:
    """Say that there is no file."""
    return f"{path}: There is no such list."


def no_ordinary_file(path: Path) -> str:
    """Say that a path leads to a folder, a pipe or the like."""
    return (
        f"{path}: This is a folder, or no ordinary file. Give the list as .xlsx, .ods, .csv or "
        f".tsv."
    )


def no_permission(path: Path) -> str:
    """Say that the system lets nobody read a file."""
    return (
        f"{path}: The file cannot be read: no permission. If it is open in another program, close "
        f"it."
    )


def empty(path: Path) -> str:
    """Say that a file holds nothing."""
    return f"{path}: The file is empty. A list has a header row, and guests below it."


def really(path: Path, kind: str) -> str:
    """Say what a file is, such as ``a PDF``."""
    return f"{path}: This is really {kind}. Give the list as .xlsx, .ods, .csv or .tsv."


def wrong_ending(path: Path, ending: str) -> str:
    """Say that a file's name is not that of a list."""
    return f"{path}: Found the ending {shown(ending)}. Give the list as .xlsx, .ods, .csv or .tsv."


def protected_or_old(path: Path) -> str:
    """Say that a file is a workbook that is not read."""
    return (
        f"{path}: The workbook is protected by a password, or it is in the old .xls format. Open "
        f"it in a spreadsheet program, take the password off and save it as .xlsx."
    )


def text_called_workbook(path: Path) -> str:
    """Say that a text has the name of a workbook."""
    return (
        f"{path}: The file is called a workbook, but it is plain text. If it is a CSV, rename it "
        f"to .csv."
    )


def other_called_workbook(path: Path) -> str:
    """Say that something has the name of a workbook."""
    return (
        f"{path}: The file is called a workbook, but it is not one. Give the list as .xlsx, .ods, "
        f".csv or .tsv."
    )


def workbook_called_text(path: Path) -> str:
    """Say that an archive has the name of a text."""
    return (
        f"{path}: The file is called text, but it is a workbook or an archive. If it is a "
        f"workbook, rename it to .xlsx or .ods."
    )


# Text files


def unknown_encoding(path: Path) -> str:
    """Say that a text cannot be decoded."""
    return (
        f"{path}: The letters are in no encoding known here (UTF-8, UTF-16, Windows-1252). Save "
        f'the list again as "CSV UTF-8".'
    )


def broken_text(path: Path, row: int, encoding: str) -> str:
    """Say where a text breaks off its encoding."""
    return (
        f"{path}: row {row}: The text is not whole: these letters are not {encoding}. Save the "
        f'list again as "CSV UTF-8".'
    )


def no_delimited_text(path: Path, row: int, reason: object) -> str:
    """Say where a text is no table."""
    return (
        f"{path}: row {row}: This is not delimited text: {reason}. Save the list again as .csv in "
        f"a spreadsheet program."
    )


def line_too_long(path: Path, line: int, most: int) -> str:
    """Say that a line has no end within reason."""
    return (
        f"{path}: line {line}: The line has more than {most:,} characters. A list has one line for "
        f"each guest. Save it again as .csv in a spreadsheet program."
    )


# Workbooks


def text_too_long(path: Path, part: str, most: int) -> str:
    """Say that a part of a workbook holds a text that no cell can hold."""
    return (
        f"{path}: The workbook's part {shown(part)} holds a text of more than {most:,} characters. "
        f"A cell holds 32,767. Open it in a spreadsheet program and save it again."
    )


def nested_too_deep(path: Path, part: str, most: int) -> str:
    """Say that the elements of a workbook's part stand too deep within each other."""
    return (
        f"{path}: The workbook's part {shown(part)} is nested more than {most} deep. No program "
        f"writes such. Open it in a spreadsheet program and save it again."
    )


def too_many(path: Path, what: str, most: int) -> str:
    """Say that a workbook has too many sheets, merged cells or shared texts."""
    return (
        f"{path}: The workbook has more than {most:,} {what}, and so many are not read. Copy the "
        f"guests into a new workbook and give that."
    )


def repeated_too_often(path: Path, what: str, times: int, most: int) -> str:
    """Say that a workbook has more rows, cells or blanks than a sheet can have."""
    return (
        f"{path}: The workbook repeats {what} {times:,} times, and {most:,} are the most. Open it "
        f"in a spreadsheet program and save it again."
    )


def protected(path: Path) -> str:
    """Say that a workbook is encrypted."""
    return f"{path}: The workbook is protected by a password. Save it without one."


def damaged(path: Path) -> str:
    """Say that a library cannot make sense of a workbook."""
    return (
        f"{path}: The workbook is damaged or cut short. Open it in a spreadsheet program and save "
        f"it again."
    )


def unpacks_too_large(path: Path, unpacked: int, most: int) -> str:
    """Say that a workbook would fill the memory; both in bytes."""
    return (
        f"{path}: The workbook would unpack to {unpacked // 1_000_000:,} MB and was not read. At "
        f"most {most // 1_000_000} MB are read."
    )


def other_format(path: Path, ending: str) -> str:
    """Say that a workbook has the ending of the other format."""
    return (
        f"{path}: The workbook has another format than its name says. Rename it to end in {ending}."
    )


def no_workbook(path: Path) -> str:
    """Say that an archive is no workbook."""
    return f"{path}: This is an archive, but no workbook. Give the list as .xlsx or .ods."


def too_many_rows(path: Path, rows: int, most: int) -> str:
    """Say that a sheet has more rows than a sheet can have."""
    return (
        f"{path}: The sheet says that it has {rows:,} rows. A sheet has at most {most:,}. Copy the "
        f"guests into a new workbook."
    )


def cell_repeated(path: Path, row: int, times: int, most: int) -> str:
    """Say that a cell is repeated across more columns than are read."""
    return (
        f"{path}: row {row}: A cell is repeated {times:,} times. A list has at most {most} "
        f"columns. Delete the columns that are not needed."
    )


# Sheets and columns


def no_such_sheet(path: Path, wanted: str, names: Iterable[str]) -> str:
    """Say that a workbook does not have a sheet."""
    names = list(names)
    return (
        f"{path}: There is no sheet {shown(wanted)}. {nearest(wanted, names)} The sheets are: "
        f"{_listed(names)}."
    )


def several_sheets(path: Path, names: Iterable[str]) -> str:
    """Say that the guests may be in one of several sheets."""
    return (
        f"{path}: Several sheets have a name column: {_listed(names)}. Say which one holds the "
        f"guests: name it in the call, or as sheet under [order] in order.toml."
    )


def no_name_column(
    path: Path, rows: int, sheets: Sequence[str], headers: Mapping[str, Iterable[str]]
) -> str:
    """Say that no column holds names: among so many rows, in sheets.

    ``headers`` are the texts of the fullest row, each with the first texts below it.
    """
    which = f" The sheets are: {_listed(sheets)}." if len(sheets) > 1 else ""
    row = ", ".join(with_values(header, below) for header, below in headers.items()) or "nothing"
    return (
        f"{path}: No name column was found in the first {rows} rows.{which} The fullest row "
        f"holds {row}. Give the column a header such as Name or Guest, or First name and Last "
        f"name, or say which column it is under [columns] in order.toml."
    )


def none_of_columns(
    path: Path, override: Mapping[str, str], rows: int, first: Sequence[str]
) -> str:
    """Say that none of the headers that an order names is there."""
    named = ", ".join(f"{field} = {shown(header)}" for field, header in override.items())
    meant = next(filter(None, (nearest(header, first) for header in override.values())), "")
    return (
        f"{path}: No header of [columns] in order.toml stands in the first {rows} rows. It says "
        f"{named}. {meant} The first row that is not blank holds {_listed(first) or 'nothing'}. "
        f"Write each header as the list has it."
    )


def two_columns(where: str, field: str, one: str, other: str) -> str:
    """Say that two columns could be the same field."""
    return (
        f"{where}: Two columns could be the {field}: {one} and {other}. Say which one it is under "
        f"[columns] in order.toml."
    )


def column(header: str, letter: str) -> str:
    """Name a column by its header and its letter."""
    return f"{shown(header)} ({letter})"


def no_such_column(where: str, field: str, header: str, known: Iterable[str]) -> str:
    """Say that an order names a column that is not there."""
    known = list(known)
    return (
        f"{where}: [columns] {field}: No column is called {shown(header)}. "
        f"{nearest(header, known)} The columns are: {_listed(known)}."
    )


def same_columns(where: str, field: str, header: str, known: Iterable[str]) -> str:
    """Say that an order names a column by a header that several have."""
    return (
        f"{where}: [columns] {field}: More than one column is called {shown(header)}. The columns "
        f"are: {_listed(known)}. Give each column a header of its own."
    )


def place(path: Path, sheet: str, row: int) -> str:
    """Name a row of a sheet."""
    return f"{path}: sheet {shown(sheet)}, row {row}"


def _listed(names: Iterable[str]) -> str:
    return ", ".join(map(shown, names))


def no_column(path: Path, title: str, known: Sequence[str], found: int) -> str:
    """Refuse a column that the list does not have, or has more than once."""
    what = f"{found} columns are called" if found else "No column is called"
    return f"{path}: {what} {shown(title)}. The list has: {', '.join(map(shown, known))}."
