"""Reads content files into one frozen Library.

Responsible for what content files may contain: headers, Markdown, names and codes that must agree between files, the house
rules for texts, and the clinic's own file. `catalogue.load_library` reads all files and reports the problems of all of them at
once, each with its file and line.

May not read a clock, or know a language other than English, or HTML. No code in any package names a single device.
"""
