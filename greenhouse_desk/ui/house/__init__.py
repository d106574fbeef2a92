"""The house: its rules, where it stands, its backups."""
