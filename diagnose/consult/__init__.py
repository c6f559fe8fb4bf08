"""consult"""
