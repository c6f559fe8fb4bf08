"""For the instructor: lesson sheets, exercises and their marking. No terminal, no disk."""
