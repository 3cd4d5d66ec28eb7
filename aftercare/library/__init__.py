"""Content files become one frozen Library.

Responsible for what a content file may say: its header, its Markdown, the names and codes that must agree between files, the
house rules for texts, and the clinic's own file. `catalogue.load_library` reads all files and reports all problems of all of
them at once, each with its file and line.

May not know a clock, a language other than English, or HTML. No code here or elsewhere names one device.
"""
