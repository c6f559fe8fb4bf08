"""Asks what is wrong with a mold, a wax or a casting, ranks the causes, computes what to set next time."""
