"""The command `diagnose`: parse, call one function, show."""
