"""What a day costs the body and the battery: walking, cycling, e-bike, energy, grade.

The room's rule: one published rule a file, each a free function that states its equation, source and range as
published; how the office applies such a rule to a profile (clamps, caps, shares) stands in `walking` and
`cycling`, never in the rule's own file. Numpy and the standard library only; arrays in, arrays out.
"""
