"""From YAML files to records: the only room that reads or writes YAML."""
