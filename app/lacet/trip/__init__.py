"""What a trip is: values, the catalogue snapshot, house rules, and edits. No input or output here."""
