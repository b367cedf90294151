"""Migrations: single steps, each frozen once a file has been written with it."""
