"""Checks every combination of devices, materials, option sets, weight orders and languages, and returns problems.

Composes, prints and renders only through the desk, so that what is checked is what is printed and published. Changes nothing.
"""
