"""Every check over every combination: devices, materials, option sets, weight orders and languages to problems.

Stands above the desk and goes by its paths only: what is checked is what is printed and published. Changes nothing.
"""
