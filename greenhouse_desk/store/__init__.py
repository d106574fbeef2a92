"""The collection folder: SQLite tables, engine, migrations, undo, photos and backups."""
