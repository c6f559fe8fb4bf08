"""interview"""
