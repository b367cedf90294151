"""The journey sheet as plain values: what stands in each cell, and how it is told."""
