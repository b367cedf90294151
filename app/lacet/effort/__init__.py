"""What a day costs the body and the battery: walking, cycling, e-bike, energy, grade.

The room's rule: one published rule a file, each a free function that states its equation, source and range as
published. How the office applies a walking rule to a profile (clamps, caps, shares) stands last in its file,
as `RULE`; for riders it stands in `cycling`. Numpy and the standard library only; arrays in, arrays out.
"""
