"""The map under the sheet."""
