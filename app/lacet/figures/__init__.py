"""What a variant amounts to, before anybody judges it: who is where when, how far, how high, how long.

Reads trip, tracks, effort and days; says nothing about good or bad (that is for `checks`).
"""
