"""The talk with a person: one question at a time, any fact at any time. prompt_toolkit lives only here."""
