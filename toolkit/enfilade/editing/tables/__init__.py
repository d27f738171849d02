"""Schedules as tables: import with a preview, and export."""
