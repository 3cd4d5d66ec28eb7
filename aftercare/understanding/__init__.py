"""Scores finished English sheets on published criteria of understandability, and measures how hard their text is to read.

Only reads: it changes no sheet, opens no file of its own and never asks for the time, so the same sheets and content always
get the same scores. `report.read_sheet` is the only place that makes the sheets to be scored. What a program cannot score is
reported as an item for a person.
"""
