"""The phone site: a folder of static files for any web host.

Responsible for the files around the patients' pages, for publishing all or nothing, for earlier editions and codes no longer in
use, and for comparing what a host serves with what was published.

May not decide what a page says. Writes only inside the folder it is given.
"""
