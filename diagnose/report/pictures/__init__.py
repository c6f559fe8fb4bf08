"""Pictures for those who would rather look than read: each with alt text and a table of the same content."""
