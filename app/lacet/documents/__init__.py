"""What leaves the house: the proposal and the travel pack."""
