"""What must be true. One file a check; each reads its case and yields findings with candidate fixes.

A check never raises for what a trip contains and never looks anything up outside its case. Its module
holds `ID` (the file's name), `SAYS` (one line for the contributor guide and the settings page) and
`check_day(day_case)` where a day and the evening before it are enough, else `check(case)`. Registered in
`registry.py`.
"""
