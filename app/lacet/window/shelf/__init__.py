"""The shelf: the library beside the sheet, sorted by what can come next."""
