"""What leaves the house: GPX files of days and trip, and the calendar."""
