"""WHEN a trip can be done: daylight, clocks, opening times, public holidays, seasons.

The room's rule: every function is pure and answers from values it is given; nothing here reads today's date,
the operating system's time zone data or a network. What is not known is answered with None, never guessed.
"""
