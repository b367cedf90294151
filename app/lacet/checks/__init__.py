"""What must be true. One file a check; each reads a `Case` and yields findings with candidate fixes.

A check never raises for what a trip contains and never looks anything up outside its case. Its module
holds `ID` (the file's name), `SAYS` (one line for the contributor guide and the settings page) and
`check(case)`. Registered in `registry.py`.
"""
