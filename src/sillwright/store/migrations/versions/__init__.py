"""Forward steps of the tables, one file each; the same for SQLite and PostgreSQL."""
