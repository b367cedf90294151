"""The drop table: what an operator brings, looked at and corrected before it is taken in."""
