"""The journey sheet: days as columns, everything about a day in its column."""
