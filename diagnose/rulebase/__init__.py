"""rulebase"""
