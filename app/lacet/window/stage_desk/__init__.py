"""The stage desk: one stage's line and heights, edited together."""
