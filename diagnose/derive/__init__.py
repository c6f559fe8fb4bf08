"""Facts that are computed: which fact comes from which calculator, and from what."""
