"""An invented collection: its plants, a year and a half of its journal, its pictures, and how they are built."""
