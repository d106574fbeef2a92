"""Pure rules and values: no Qt, no SQL, no files, no clock."""
