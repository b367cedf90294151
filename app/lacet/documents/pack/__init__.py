"""The travel pack: what the guests find their way with, once the trip is theirs.

Its rule: every figure is the assessment's own, and what is written here is only ever added, never reckoned.
"""
