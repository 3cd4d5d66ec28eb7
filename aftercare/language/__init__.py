"""Sheets become sheets in a language.

Responsible for translations (PO files), the checks that keep an unsafe translation off a sheet, numbers, dates, lists and hours
as CLDR writes them, and what has been approved. There is no falling back: a sheet is sound in a language or not offered in it.

The only package that imports Babel and polib. May not open a file, read a clock, or know HTML.
"""
