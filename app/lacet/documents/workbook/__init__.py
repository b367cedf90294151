"""Workbooks that leave the house: a quote with live formulas, the trip as a sheet, variants side by side.

Every text a person wrote goes through `Page.text`, which never makes a formula of it. Every formula goes
through `Page.formula` together with its value: programs that reckon find the formula, those that only
show (a telephone, a preview) find the value, and a test holds the two against each other.
"""
