"""Amounts, exact until shown: units, sums, conversions, temperatures, and their wording for people.

The only ring that imports pint, and that only in `generate.py`; the running program reads the generated table.
"""
