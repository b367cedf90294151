"""Lacet: compose, prove and hand over self-guided trips on foot and by bike.

Importing the package imports nothing else; each room is imported by whoever needs it.
"""

__version__ = "0.1.0"
