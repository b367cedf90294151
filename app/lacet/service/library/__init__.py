"""The library desk as plain values: its lists, forms, and what an edit of many comes to."""
