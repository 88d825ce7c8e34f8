"""The desktop app: asks and shows. Nothing here knows the trade; the jobs and the session do."""
