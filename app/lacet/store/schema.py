"""The numbers by which a project file is known. Free of SQLAlchemy, so that looking at a file is cheap."""

APPLICATION_ID = 0x4C616365  # "Lace", at offset 68 of the file's header
SCHEMA = 9  # the newest migration; PRAGMA user_version holds the file's own
SUFFIX = ".lacet"
