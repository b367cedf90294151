"""One file a step; its `revision` is the number kept in the file as PRAGMA user_version."""
