"""The library desk: everything the office knows, lists and editors, what is missing, what connects."""
