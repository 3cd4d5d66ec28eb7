"""Translates sheets.

Responsible for translations (PO files), the checks that refuse an unsafe translation, numbers, dates, lists and hours as CLDR
writes them, and approvals. There is no fallback to English: a sheet is completely translated or not offered in a language.

The only package that imports Babel and polib. May not open a file, read a clock, or know HTML.
"""
